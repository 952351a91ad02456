// Front: the block as it is drawn, the verbs, the key of fabrics, what it takes, and its notes.

import { h, fill, picture, set } from "../element.js";
import { parsed, readable, whole } from "../exact.js";
import { Desk } from "../board/desk.js";
import { Surface } from "../board/surface.js";
import { measured } from "../board/verbs.js";
import { fits, SYMMETRIES } from "../drawing/symmetry.js";
import { point } from "../drawing/model.js";
import { swatch } from "../hatches.js";
import { printed } from "../lettering.js";
import { button, factList, keySheet, wordButton } from "../shell.js";
import { choices, known, on, say } from "../state.js";
import { SNAPS, SYMMETRY_NAMES, VERBS, words } from "../words.js";
import { panel } from "./block.js";
import { noteList, pinned } from "./notes.js";
import { objectList } from "./objects.js";
import { unitTray } from "./tray.js";

const STEPS = { in: ["1/8", "1/4", "1/2", "1", "2"], cm: ["1/4", "1/2", "1", "2", "5"] };
const PARTS = [2, 3, 4, 5, 6, 8, 10, 12, 16];

export function front(body, hand) {
  if (!hand.drawing) {
    return lookedAt(body, hand);
  }
  const { unit, allowance, fabrics } = known.project;
  const fabricNames = new Map(fabrics.map((fabric) => [fabric.letter, fabric.name]));
  const surface = new Surface({
    label: words.boardLabel(hand.title), describedby: "board-help",
    unit: { name: unit, boardWord: words.boardWord }, allowance: allowance.v,
  });
  const verbs = verbList((verb) => desk.take(verb));
  const readout = readoutRow(unit, (typed) => desk.tool.typed?.(typed), () => surface.board.focus());
  const key = h("div", { class: "fabric-key" });
  const notes = noteList({ go: (note, at) => showNote(note, at) });
  const facts = h("div");
  const extra = h("div", { class: "extra" });
  const objects = objectList();

  const desk = new Desk(surface, hand, unit, {
    changed: () => drawChoice(),
    readout: (at, start) => readout.show(at, start),
    verb: (verb) => {
      verbs.show(verb);
      drawExtra();
    },
    hint: (text) => readout.hint(text),
    type: (first) => readout.type(first),
    note: (number) => notes.choose(number),
    keys: () => openKeys(),
    hasFabric: (letter) => fabricNames.has(letter),
    patchName: (face) => words.patchName(printed(face.fabric),
      words.size(round(face.at[0]), round(face.at[1]), unit), fabricNames.get(face.fabric)),
  });

  function openKeys() {
    keySheet(choices.get("single keys", true), (well) => choices.set("single keys", well));
  }

  function drawKey() {
    const counts = new Map();
    for (const { fabric } of hand.drawing.plane.faces) counts.set(fabric, (counts.get(fabric) ?? 0) + 1);
    const held = document.activeElement?.dataset?.letter;
    fill(key, fabrics.map((fabric) => h("button", {
      type: "button", class: "fabric", "data-letter": fabric.letter,
      "aria-pressed": String((desk.chosenFace?.fabric ?? desk.tools.fabric.inHand) === fabric.letter),
      onclick: () => {
        if (desk.verb !== "fabric") desk.take("fabric");
        desk.tools.fabric.give(fabric.letter);
        drawKey();
      },
    }, swatch(fabric), h("b", {}, printed(fabric.letter)), h("span", { class: "fabric-name" }, fabric.name),
    h("span", { class: "count" }, counts.get(fabric.letter) ?? "",
      counts.has(fabric.letter) ? h("span", { class: "unseen" }, words.patchesWord) : null))));
    if (held) key.querySelector(`[data-letter=${held}]`)?.focus();
  }

  function drawChoice() {
    drawKey();
    objects.show(desk);
  }

  function drawExtra() {
    if (desk.verb === "unit") fill(extra, unitTray(desk, known.project, unit));
    else if (desk.verb === "erase") fill(extra, partChoice(desk));
    else fill(extra);
  }

  function showNote(note, at) {
    desk.goTo(...inUnit(at));
    surface.board.focus();
    desk.byKeys = true;
    say(`${note.what} ${note.mend}`);
  }

  function show() {
    if (!hand.drawing) return;
    surface.show(hand.drawing, fabrics);
    desk.redraw();
    drawChoice();
  }

  fill(body,
    h("div", { class: "left" },
      verbs.element, extra,
      h("section", {}, h("h2", {}, words.fabrics), key,
        fabrics.length ? null : h("p", {}, h("a", { class: "word", href: "#cloth" }, words.addFabric))),
      settings(desk, hand, unit)),
    h("div", { class: "middle" },
      surface.element, readout.element, viewRow(surface, openKeys),
      h("p", { id: "board-help", class: "unseen" }, words.boardHelp)),
    h("div", { class: "right" },
      h("section", {}, h("h2", {}, words.facts), facts),
      h("section", {}, h("h2", {}, words.notes), notes.element),
      objects.element));
  desk.step = stepOf(choices.get("grid", defaultGrid(hand, unit)), hand);
  verbs.show(desk.verb);
  drawExtra();
  show();
  readout.hint(VERBS[desk.verb].how);

  const pieces = panel(hand, "pieces", (told) => fill(facts, factList(told.facts)), {
    over: facts,
  });
  const proof = panel(hand, "proof", (told) => {
    notes.show(told.findings ?? [], told.proved);
    desk.pins = pinned(told.findings ?? [], inUnit);
    desk.redraw();
  }, { over: notes.element });
  const stop = on("drawing", show);
  const { note } = known.place;
  if (note) notes.choose(Number(note), true);
  return () => {
    stop();
    pieces.stop();
    proof.stop();
  };
}

/** A block that cannot be drawn on here is looked at. */
function lookedAt(body, hand) {
  const board = h("div", { class: "picture-board" });
  const facts = h("div");
  const notes = noteList();
  body.classList.remove("front");
  fill(body, h("div", { class: "middle" }, h("p", {}, words.cannotDraw(hand.canDraw)), board),
    h("div", { class: "right" }, h("section", {}, h("h2", {}, words.facts), facts),
      h("section", {}, h("h2", {}, words.notes), notes.element)));
  const watch = panel(hand, "front", (told) => {
    fill(board, told.svg ? picture(told.svg, hand.title) : null);
    fill(facts, factList(told.facts));
    notes.show(told.findings ?? [], null);
  }, { over: board });
  return () => watch.stop();
}

/** A place that a note gives in inches, in the unit of the page. */
function inUnit([x, y]) {
  const share = known.project.unit === "cm" ? 2.54 : 1;
  return [x * share, y * share];
}

function round(value) {
  return readable(whole(Math.round(value * 16)).over(whole(16)));
}

function verbList(take) {
  const buttons = new Map(Object.entries(VERBS).map(([name, { says, key }]) => [name,
    h("button", { type: "button", class: "verb", "aria-pressed": "false", onclick: () => take(name) },
      h("span", {}, says), h("kbd", { "aria-hidden": "true" }, key.toUpperCase()))]));
  return {
    element: h("div", { class: "verbs" }, [...buttons.values()]),
    show: (verb) => buttons.forEach((node, name) => set(node, { "aria-pressed": String(name === verb) })),
  };
}

/** Place, length and angle: shown while one moves, typed when they must be exact. */
function readoutRow(unit, typed, leave) {
  let start = null;
  const unitWord = () => h("span", { class: "unit" }, ` ${unit}`);
  const field = (name, says, more) => h("label", { class: `reading ${name}` }, h("span", {}, says),
    h("span", { class: "reading-value" },
      h("input", { name, type: "text", inputmode: "decimal", autocomplete: "off", size: 6 }), more));
  const form = h("form", { class: "readout", onsubmit: (event) => {
    event.preventDefault();
    if (send()) leave();
  }, onkeydown: (event) => {
    if (event.key !== "Escape") return;
    leave();
  } },
  field("x", words.end, " ×\u00a0"), field("y", "\u00a0", unitWord()),
  field("long", words.length, unitWord()), field("angle", words.angle, "°"),
  button(words.setEnd, () => {}, { type: "submit", class: "button set" }),
  h("p", { class: "hint", role: "note" }));
  form.querySelector("[name=y]").setAttribute("aria-label", `${words.end}, y`);
  form.querySelector("[name=x]").setAttribute("aria-label", `${words.end}, x`);
  const { x, y, long, angle } = form.elements;
  const hint = form.querySelector(".hint");
  let touched = null;
  for (const input of [x, y, long, angle]) {
    input.addEventListener("input", () => {
      touched = input === x || input === y ? "end" : "length";
      input.removeAttribute("aria-invalid");
    });
    input.addEventListener("focus", () => input.select());
  }
  const put = (input, value) => {
    if (document.activeElement !== input && input.value !== value) input.value = value;
  };
  function bad(input, sentence) {
    input.setAttribute("aria-invalid", "true");
    hint.textContent = sentence;
    say(sentence);
    input.focus();
    return false;
  }
  function send() {
    if (touched === "length") {
      const length = parsed(long.value);
      if (!length || length.v <= 0) return bad(long, words.badLength);
      const degrees = Number(angle.value.trim() === "" ? "0" : angle.value);
      if (!Number.isFinite(degrees)) return bad(angle, words.badAngle);
      touched = null;
      typed({ length, angle: degrees });
      return true;
    }
    const [px, py] = [parsed(x.value), parsed(y.value)];
    if (!px) return bad(x, words.badLength);
    if (!py) return bad(y, words.badLength);
    touched = null;
    typed({ end: point(px, py) });
    return true;
  }
  return {
    element: form,
    show(at, from) {
      start = from;
      if (touched) return;
      put(x, at ? readable(at.x) : "");
      put(y, at ? readable(at.y) : "");
      const read = at && start ? measured(start, at) : { length: "", angle: "" };
      put(long, read.length);
      put(angle, read.angle);
    },
    type(first) {
      touched = "length";
      long.focus();
      long.value = first;
      hint.textContent = words.typeHint;
    },
    hint: (text) => {
      hint.textContent = text;
    },
  };
}

function settings(desk, hand, unit) {
  const grid = choices.get("grid", defaultGrid(hand, unit));
  const symmetry = h("select", { onchange: (event) => {
    desk.symmetry = event.target.value;
    desk.redraw();
  } }, Object.keys(SYMMETRIES).filter((name) => fits(name, hand.drawing)).map((name) =>
    h("option", { value: name, selected: name === desk.symmetry }, SYMMETRY_NAMES[name])));
  const steps = h("select", { onchange: (event) => {
    choices.set("grid", event.target.value);
    desk.step = stepOf(event.target.value, hand);
  } },
  STEPS[unit].map((step) =>
    h("option", { value: step, selected: grid === step }, words.gridStep(step, unit))),
  PARTS.map((count) => h("option", { value: `part ${count}`, selected: grid === `part ${count}` },
    words.gridPart(count))));
  return h("div", { class: "settings" },
    h("section", {}, h("h2", {}, words.symmetry),
      h("label", { class: "field" }, h("span", {}, words.symmetryHint), symmetry)),
    h("section", {}, h("h2", {}, words.snapTo),
      h("label", { class: "field" }, h("span", {}, words.grid), steps),
      Object.entries(SNAPS).map(([name, says]) => h("label", { class: "tick" },
        h("input", { type: "checkbox", checked: desk.snaps[name], onchange: (event) => {
          desk.snaps = { ...desk.snaps, [name]: event.target.checked };
          choices.set("snaps", desk.snaps);
        } }), says))));
}

function defaultGrid(hand, unit) {
  const count = hand.drawing.sent.grid?.[0];
  return PARTS.includes(count) ? `part ${count}` : STEPS[unit][1];
}

function stepOf(name, hand) {
  const part = /^part (\d+)$/u.exec(name);
  return part ? hand.drawing.width.over(whole(Number(part[1]))) : parsed(name);
}

function partChoice(desk) {
  const choice = (part, says) => h("label", { class: "tick" },
    h("input", { type: "radio", name: "part", checked: desk.onlyPart === part,
      onchange: () => { desk.onlyPart = part; } }), says);
  return h("fieldset", { class: "plain" }, h("legend", { class: "unseen" }, VERBS.erase.says),
    choice(false, words.wholeSeam), choice(true, words.partOfSeam));
}

function viewRow(surface, openKeys) {
  const by = 60;
  const act = (says, does) => wordButton(says, does);
  return h("div", { class: "view", role: "group", "aria-label": words.viewLabel },
    act(words.nearer, () => surface.zoom(1.25)), act(words.farther, () => surface.zoom(0.8)),
    act(words.wholeBlock, () => surface.fit()),
    act(words.left, () => surface.pan(by, 0)), act(words.right, () => surface.pan(-by, 0)),
    act(words.up, () => surface.pan(0, by)), act(words.down, () => surface.pan(0, -by)),
    act(words.keysOpen, openKeys));
}
