// Blocks: pictures with a proof mark; new, copy, turn, mirror, rename.

import { h, fill, picture, s } from "../element.js";
import { parsed } from "../exact.js";
import { blockPath, get, post, put, Refused, unlessRefused } from "../server.js";
import { button, dialog, heading, notice, placeAddress, show, wordButton } from "../shell.js";
import { known, on, say, tell } from "../state.js";
import { MARKS, words } from "../words.js";
import { swatch } from "../hatches.js";
import { printed, sized } from "../lettering.js";
import { capital } from "./notes.js";

/** Marks come in one after the other; the list is drawn anew once for some of them. */
const SOON = 250;

export function blocks() {
  const head = heading(words.blocksTitle, known.project.title);
  const list = h("div", { class: "block-list" });
  const drawn = new Map();
  show(words.blocksTitle, head, list);

  const draw = () => {
    const all = known.project.blocks;
    if (!all.length) {
      fill(list, nothingYet());
      return;
    }
    fill(list, h("ul", { class: "blocks" }, all.map((one) => card(one, drawn))),
      h("p", { class: "acts" }, button(words.drawBlock, () => askNew(), { class: "button main" })),
      known.project.fabrics.length ? h("section", { class: "cloth-key" }, h("h2", {}, words.fabrics),
        h("ul", {}, known.project.fabrics.map((fabric) => h("li", {}, swatch(fabric),
          h("b", {}, printed(fabric.letter)), " ", fabric.name)))) : null);
  };
  draw();
  let later = null;
  const stops = [
    on("project", draw),
    on("panel", ({ panel, block }) => {
      const one = known.project.blocks.find(({ name }) => name === block);
      const frame = list.querySelector(`[data-block="${CSS.escape(block)}"]`);
      if (panel === "picture" && one && frame) paint(one, frame, drawn);
      if (panel !== "proof") return;
      clearTimeout(later);
      later = setTimeout(() => again().catch(unlessRefused), SOON);
    }),
  ];
  return () => {
    clearTimeout(later);
    [...stops, ...head.stops].forEach((stop) => stop());
  };
}

function card(one, drawn) {
  const address = placeAddress({ place: "block", block: one.name });
  const frame = h("div", { class: "thumb", "data-block": one.name });
  if (drawn.has(one.picture)) frame.append(drawn.get(one.picture));
  else paint(one, frame, drawn);
  return h("li", {},
    h("a", { class: "block-card", href: address },
      frame, h("span", { class: "block-name" }, one.title),
      h("span", { class: `mark ${one.mark}` }, MARKS[one.mark] ?? "")),
    h("div", { class: "acts" },
      act(words.copyBlock, one, () => post("/api/blocks", { what: "copy", name: words.copyName(one.title), from: one.name })),
      act(words.turnBlock, one, () => post(blockPath(one.name, "/turn"), { quarters: 1 }, { revision: one.revision })),
      act(words.mirrorBlock, one, () => post(blockPath(one.name, "/mirror"), {}, { revision: one.revision })),
      wordButton(words.renameBlock, () => askName(one), { "aria-label": words.forBlock(words.renameBlock, one.title) })));
}

async function paint(one, frame, drawn) {
  try {
    const { svg } = await get(blockPath(one.name, "/panel/picture"));
    if (!svg) return; // it is being drawn, or is not whole yet
    const made = picture(svg, one.title);
    drawn.set(one.picture, made);
    fill(frame, made);
  } catch (problem) {
    if (problem.status === undefined) throw problem; // else the page says so elsewhere
  }
}

function act(says, one, does) {
  return wordButton(says, () => done(one, says, does), { "aria-label": words.forBlock(says, one.title) });
}

async function done(one, says, does) {
  try {
    await does();
    say(words.forBlock(says, one.title));
    await again();
  } catch (problem) {
    complain(problem);
  }
}

async function again() {
  known.project = { ...known.project, ...(await get("/api/project")) };
  tell("project");
  const history = await get("/api/history");
  known.history = { undo: history.undo ?? null, redo: history.redo ?? null };
  tell("history");
}

function complain(problem) {
  if (problem.status === undefined) throw problem;
  const { sentence, mend } = problem.told;
  const title = problem.status === 0 ? words.silentShort : sentence ?? words.problem;
  const box = dialog(words.problem, notice("fault", title, mend ? `${capital(mend)}.` : null),
    button(words.keysClose, () => box.close()));
}

function nothingYet() {
  return h("section", { class: "empty" },
    s("svg", { width: 128, height: 128, viewBox: "-4 -4 128 128", "aria-hidden": "true" },
      s("rect", { x: 0, y: 0, width: 112, height: 112, class: "first-block" }),
      s("path", { d: "M0 112L112 0M-3 109l6 6M109 -3l6 6", class: "first-seam" })),
    h("h2", {}, words.noBlocks), h("p", {}, words.noBlocksWords),
    button(words.drawBlock, () => askNew(), { class: "button main" }));
}

function field(says, name, value, more) {
  return h("label", { class: "field" }, h("span", {}, says),
    h("span", {}, h("input", { name, type: "text", value, required: true, autocomplete: "off" }), more));
}

function askNew() {
  const { unit } = known.project;
  ask(words.drawBlock, [
    field(words.newName, "name", ""),
    field(words.newSize, "size", unit === "cm" ? "30" : "12", ` ${unit}`),
  ], async (values) => {
    const size = parsed(values.size);
    if (!size || size.v <= 0) throw new Refused(422, { sentence: words.badLength });
    const made = await post("/api/blocks", { what: "new", name: values.name });
    await sized_(made.name, size.text);
    await again();
    location.hash = placeAddress({ place: "block", block: made.name });
    say(words.blockMade(values.name));
  });
}

/** A new block is given the size that was typed. */
async function sized_(name, side) {
  const { drawing, revision } = await get(blockPath(name));
  if (drawing.width === side && drawing.height === side) return;
  await put(blockPath(name), { what: words.sizeSet, drawing: { ...drawing, width: side, height: side } },
    { revision });
}

function askName(one) {
  ask(words.forBlock(words.renameBlock, one.title), [field(words.newName, "name", one.title)],
    async (values) => {
      await post(blockPath(one.name, "/rename"), { to: values.name }, { revision: one.revision });
      await again();
    });
}

function ask(title, fields, does) {
  const fault = h("p", { class: "fault-words", role: "alert" });
  const form = h("form", { class: "asking", onsubmit: async (event) => {
    event.preventDefault();
    try {
      await does(Object.fromEntries(new FormData(form)));
      box.close();
    } catch (problem) {
      if (problem.status === undefined) throw problem;
      const { sentence, mend } = problem.told;
      fill(fault, sized(problem.status ? [sentence ?? words.problem, mend].filter(Boolean).join(". ") : words.silentShort));
    }
  } }, fields, fault,
  h("p", { class: "acts" }, button(words.make, () => {}, { type: "submit", class: "button main" }),
    button(words.cancel, () => box.close())));
  const box = dialog(title, form);
}
