// Seams and patches as a list: what a screen reader reads, and a way to pick without pointing.

import { h, fill } from "../element.js";
import { sized } from "../lettering.js";
import { words } from "../words.js";

const MOST = 60;

export function objectList() {
  let desk = null;
  const search = h("input", { type: "search", autocomplete: "off", oninput: () => draw() });
  const rows = h("ul", { class: "objects" });
  const element = h("details", { class: "object-list", ontoggle: () => draw() },
    h("summary", {}, words.objects),
    h("label", { class: "field" }, h("span", {}, words.objectsSearch), search), rows);
  const pick = (verb, choice) => {
    if (desk.verb !== verb) desk.take(verb);
    desk.choose(choice);
  };
  function draw() {
    if (!desk || !element.open) return;
    const { drawing } = desk;
    const held = document.activeElement?.dataset?.object;
    const seams = drawing.seams.map((seam) => ({
      key: `s${seam.id}`, says: desk.seamName(seam), on: desk.chosen?.seam === seam.id,
      act: () => pick("move", { seam }),
    }));
    const patches = drawing.plane.faces.map((face) => ({
      key: `p${face.key}`, says: desk.told.patchName(face), on: desk.chosen?.face === face.key,
      act: () => pick("fabric", { face }),
    }));
    const asked = search.value.trim().toLowerCase();
    const found = [...patches, ...seams].filter(({ says }) => says.toLowerCase().includes(asked));
    fill(rows, found.slice(0, MOST).map(({ key, says, on, act }) => h("li", {},
      h("button", { type: "button", class: "row", "data-object": key, "aria-pressed": String(on), onclick: act },
        sized(says)))),
    found.length > MOST ? h("li", {}, words.objectsMore(found.length - MOST)) : null);
    if (held) [...rows.querySelectorAll("button")].find((b) => b.dataset.object === held)?.focus();
  }
  return {
    element,
    show(which) {
      desk = which;
      draw();
    },
  };
}


