// The tray of common units: each is drawn by rule from a size.

import { h, s, fill } from "../element.js";
import { parsed, whole } from "../exact.js";
import { point } from "../drawing/model.js";
import { heightFor, laid, UNITS } from "../drawing/units.js";
import { printed } from "../lettering.js";
import { button } from "../shell.js";
import { choices, say } from "../state.js";
import { UNIT_NAMES, words } from "../words.js";

const SIDE = 40;

/** Chooses the unit in hand of a desk: kind, size, fabrics, turn. */
export function unitTray(desk, project, unit) {
  const letters = project.fabrics.map(({ letter }) => letter);
  const size = choices.get("unit size", "3");
  desk.unit ??= made(choices.get("unit", "hst"), size, ["a", "b", "c"].map((l, i) => letters[i] ?? letters[0] ?? l));
  const element = h("section", { class: "tray" });
  const again = () => fill(element, draw());
  const take = (name) => {
    desk.unit = made(name, desk.unit.text, desk.unit.letters);
    choices.set("unit", name);
    again();
    say(UNIT_NAMES[name]);
  };
  function draw() {
    const { name, text } = desk.unit;
    return [
      h("h2", {}, words.units),
      h("div", { class: "unit-kinds", role: "group", "aria-label": words.unitKind },
        Object.keys(UNITS).map((kind) => h("button", {
          type: "button", class: "unit-kind", "aria-pressed": String(kind === name),
          "aria-label": UNIT_NAMES[kind], title: UNIT_NAMES[kind], onclick: () => take(kind),
        }, small(kind)))),
      h("p", { class: "count" }, UNIT_NAMES[name]),
      h("label", { class: "field" }, h("span", {}, words.unitSize),
        h("span", {}, h("input", { type: "text", inputmode: "decimal", value: text, size: 6, onchange: (event) => {
          const wide = parsed(event.target.value);
          if (!wide || wide.v <= 0) {
            event.target.setAttribute("aria-invalid", "true");
            desk.say(words.badLength);
            return;
          }
          desk.unit = made(name, event.target.value, desk.unit.letters);
          choices.set("unit size", event.target.value);
          again();
        } }), ` ${unit}`)),
      h("p", { class: "count" }, words.sizeIs(desk.unit.width.text, desk.unit.height.text, unit)),
      h("fieldset", { class: "plain" }, h("legend", {}, words.unitFabrics),
        Array.from({ length: UNITS[name].fabrics }, (_, i) => h("select", {
          "aria-label": `${words.unitFabrics}, ${i + 1}`, onchange: (event) => {
            const chosen = [...desk.unit.letters];
            chosen[i] = event.target.value;
            desk.unit = { ...desk.unit, letters: chosen };
          },
        }, letters.map((letter) => h("option", { value: letter, selected: desk.unit.letters[i] === letter },
          printed(letter)))))),
      button(words.unitTurn, () => {
        desk.tools.unit.turn();
        desk.redraw();
      }),
    ];
  }
  again();
  return element;
}

function made(name, text, letters) {
  const known = name in UNITS ? name : "hst";
  const width = parsed(text) ?? whole(3);
  return { name: known, text, width, height: heightFor(known, width), letters };
}

/** A unit small, in two greys and white. */
function small(name) {
  const side = whole(SIDE);
  const high = heightFor(name, side);
  const { seams } = laid(name, point(whole(0), whole(0)), side, high, 0, []);
  const top = (SIDE - high.v) / 2;
  return s("svg", { width: SIDE + 4, height: SIDE + 4, viewBox: `-2 ${-2 - top} ${SIDE + 4} ${SIDE + 4}`, "aria-hidden": "true" },
    s("rect", { x: 0, y: 0, width: SIDE, height: high.v, class: "small-edge" }),
    seams.map(([a, b]) => s("path", { class: "small-seam", d: `M${a.x.v} ${a.y.v}L${b.x.v} ${b.y.v}` })));
}
