// What stands round every place: the rail, the heading with undo and what was saved, dialogs.

import { h, fill } from "./element.js";
import { stepBack } from "./hand.js";
import { sized } from "./lettering.js";
import { known, on, say, tell } from "./state.js";
import { INSIDE, PLACES, words } from "./words.js";

const rail = document.getElementById("rail");
const main = document.getElementById("main");
/** Ticks of the rail, at most: more would be grey. */
const MOST_TICKS = 12;

/** The address of a place; in Back the note is a place in inches, as 3,4.5. */
export function placeAddress({ place, block, inside, note }) {
  if (place !== "block") return `#${place}`;
  return `#block/${encodeURIComponent(block)}/${inside ?? "front"}${note ? `/${note}` : ""}`;
}

/** The place of an address; an unknown one leads to the blocks. */
export function placeOf(address) {
  const [place, block, inside, note] = address.replace(/^#/u, "").split("/").map(decodeURIComponent);
  if (place === "block" && block) {
    return { place, block, inside: inside in INSIDE ? inside : "front", note };
  }
  return { place: place in PLACES ? place : "blocks" };
}

export function drawRail() {
  const { project, place } = known;
  const counts = {
    blocks: [words.blocksCount(project.blocks.length), project.blocks.length],
    cloth: [words.fabricsCount(project.fabrics.length), project.fabrics.length],
    top: [project.size ?? "", 0],
    programme: ["", 0],
    booklet: [project.pages ?? "", 0],
    proof: [project.notes == null ? "" : words.notesCount(project.notes), project.notes ?? 0],
  };
  const here = place.place === "block" ? "blocks" : place.place;
  const inHand = project.blocks.findIndex(({ name }) => name === place.block);
  rail.setAttribute("aria-label", words.railLabel);
  fill(rail,
    h("ul", {}, Object.entries(PLACES).map(([name, says]) => {
      const [count, ticks] = counts[name];
      return h("li", { class: name === here ? "here" : false },
        h("a", { href: `#${name}`, "aria-current": name === here ? "page" : false },
          h("span", { class: "place-name" }, says), h("span", { class: "count" }, sized(count))),
        h("span", { class: "ticks", "aria-hidden": "true" },
          Array.from({ length: Math.min(ticks, MOST_TICKS) }, (_, i) =>
            h("i", { class: name === "blocks" && i === inHand ? "in-hand" : false }))));
    })),
    h("p", { class: "quilt" }, project.title ?? project.name),
  );
}

/** The heading of a place: title, facts in one line, undo, redo, what was saved. */
export function heading(title, facts, tools = null) {
  const saved = h("div", { class: "saved" });
  const steps = h("div", { class: "undo" });
  const element = h("header", { class: "heading" },
    h("div", { class: "name" }, h("h1", {}, title), h("p", { class: "facts" }, sized(facts ?? ""))),
    h("div", { class: "state" }, steps, saved, tools));
  const drawSteps = () => {
    const { undo, redo } = known.history;
    const held = document.activeElement?.dataset.way;
    fill(steps,
      h("button", { class: "word", "data-way": "undo", disabled: !undo, onclick: () => stepBack("undo") },
        words.undo(undo)),
      redo && h("button", { class: "word", "data-way": "redo", onclick: () => stepBack("redo") },
        words.redo(redo)),
      h("button", { class: "word", "data-way": "list", "aria-expanded": String(Boolean(document.querySelector(".history"))),
        onclick: () => tell("history-asked") }, words.history));
    if (held) steps.querySelector(`[data-way=${held}]`)?.focus();
  };
  const drawSaved = () => {
    const { block } = known;
    if (block?.stale) fill(saved);
    else if (block?.waiting.length) fill(saved, words.saving);
    else fill(saved, known.saved ? words.saved(known.saved) : "");
  };
  drawSteps();
  drawSaved();
  element.stops = [
    on("history", drawSteps),
    on("history-open", drawSteps),
    on("saved", drawSaved),
    on("saving", drawSaved),
    on("not-saved", () => fill(saved)),
  ];
  return element;
}

/** The words of the places inside a block. */
export function insideRow(block, here) {
  return h("nav", { class: "inside", "aria-label": words.insideLabel },
    Object.entries(INSIDE).map(([name, says]) =>
      h("a", { href: placeAddress({ place: "block", block, inside: name }),
        class: name === here ? "here" : false, "aria-current": name === here ? "page" : false }, says)));
}

/** A bar under the heading for what could not be saved, or for an offer. */
export function notice(kind, title, text, ...acts) {
  return h("section", { class: `notice ${kind}`, "aria-label": title },
    h("p", { class: "notice-title" }, sized(title)), text && h("p", {}, sized(text)),
    acts.length ? h("p", { class: "acts" }, acts) : null);
}

export function button(says, act, attributes = {}) {
  return h("button", { type: "button", class: "button", onclick: act, ...attributes }, sized(says));
}

export function wordButton(says, act, attributes = {}) {
  return h("button", { type: "button", class: "word", onclick: act, ...attributes }, sized(says));
}

/** Shows a dialog until it is closed; gives back the dialog. Focus returns to where it was. */
export function dialog(title, ...content) {
  const before = document.activeElement;
  const box = h("dialog", { "aria-label": title }, h("h2", {}, title), content);
  box.addEventListener("close", () => {
    box.remove();
    before?.focus?.();
  });
  document.body.append(box);
  box.showModal();
  return box;
}

/** A list of facts, name and value. */
export function factList(facts) {
  return h("dl", { class: "fact-list" }, (facts ?? []).map(([name, value]) =>
    h("div", {}, h("dt", {}, sized(name)), h("dd", {}, sized(value)))));
}

/** Puts a place into the page. */
export function show(title, ...content) {
  document.title = words.title(title);
  fill(main, content);
}

/** The keys, as a sheet. */
export function keySheet(single, onSingle) {
  const box = dialog(words.keysTitle,
    h("dl", { class: "fact-list keys" }, words.keys.map(([key, does]) =>
      h("div", {}, h("dt", {}, key), h("dd", {}, does)))),
    h("label", { class: "tick" },
      h("input", { type: "checkbox", checked: single, onchange: (e) => onSingle(e.target.checked) }),
      words.keysSingle),
    button(words.keysClose, () => box.close()));
}

/** Undo and redo by their usual keys, everywhere but in fields. */
export function undoKeys() {
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    if (event.target.matches?.("input, textarea, select")) return;
    const key = event.key.toLowerCase();
    const way = key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : null;
    if (!way) return;
    event.preventDefault();
    stepBack(way);
  });
  document.addEventListener("keydown", (event) => {
    const { place, block } = known.place;
    if (!event.altKey || event.ctrlKey || place !== "block" || !/^Digit[1-5]$/u.test(event.code)) return;
    event.preventDefault();
    const inside = Object.keys(INSIDE)[Number(event.code.at(-1)) - 1];
    location.hash = placeAddress({ place, block, inside });
    say(INSIDE[inside]);
  });
}


