// Proof: all notes of all blocks, each with a way to its place.

import { h, fill } from "../element.js";
import { sized } from "../lettering.js";
import { blockPath, get } from "../server.js";
import { heading, placeAddress, show } from "../shell.js";
import { known, on } from "../state.js";
import { MARKS, SEVERITY, words } from "../words.js";
import { capital, gathered, head as pinHead, seamsPlace, thick } from "./notes.js";

export async function proof() {
  const top = heading(words.proofTitle, words.proofWords);
  const list = h("div", { class: "proof-list" });
  show(words.proofTitle, top, list);
  let gone = false;

  async function one(block, section) {
    const told = await get(blockPath(block.name, "/panel/proof"));
    if (gone) return;
    if (told.status === 202) {
      fill(section, title(block), h("p", { class: "count" }, words.loading));
      return;
    }
    const findings = gathered(told.findings ?? []);
    fill(section, title(block, told),
      findings.length ? h("ol", { class: "notes" }, findings.map((note, i) => h("li", {},
        pinHead(i + 1, note.severity),
        h("div", {}, h("p", {}, h("b", {}, `${SEVERITY[note.severity]}. `), sized(capital(note.what)), "."),
          note.mend ? h("p", { class: "mend" }, sized(capital(note.mend)), ".") : null,
          thick(note)
            ? h("a", { class: "word", href: placeAddress({ place: "block", block: block.name, inside: "back", note: seamsPlace(note.places[0]) }) },
              words.toSeams(block.title))
            : h("a", { class: "word", href: placeAddress({ place: "block", block: block.name, inside: "front", note: i + 1 }) },
              words.toPlace(block.title))))))
        : h("p", {}, words.noNotes),
      h("p", { class: "count" }, (told.facts ?? []).map(([name, value]) => `${name}: ${value}`).join(" · ")));
  }

  function title(block, told) {
    const mark = told ? markOf(told) : block.mark;
    return h("h2", {}, h("a", { href: placeAddress({ place: "block", block: block.name }) }, block.title),
      " ", h("span", { class: `mark ${mark}` }, MARKS[mark] ?? ""));
  }

  const sections = known.project.blocks.map((block) => [block, h("section", { class: "proof-block" }, title(block))]);
  fill(list, sections.length ? sections.map(([, section]) => section) : h("p", {}, words.noBlocks));
  const stops = [on("panel", (told) => {
    const found = sections.find(([block]) => block.name === told.block);
    if (found && (!told.panel || told.panel === "proof")) one(...found);
  })];
  for (const [block, section] of sections) {
    if (gone) break;
    await one(block, section);
  }
  return () => {
    gone = true;
    stops.forEach((stop) => stop());
    top.stops.forEach((stop) => stop());
  };
}

/** The mark of a block by what its proof says. */
function markOf({ findings = [], proved }) {
  const worst = new Set(findings.map(({ severity }) => severity));
  if (worst.has("error") || !proved) return "faults";
  return worst.has("warning") ? "notes" : "proved";
}
