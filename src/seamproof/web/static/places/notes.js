// Notes: pins in the drawing and the list beside it. Choosing one moves the eye to the other.

import { h, fill } from "../element.js";
import { sized } from "../lettering.js";
import { wordButton } from "../shell.js";
import { SEVERITY, words } from "../words.js";

/** Notes that are listed at once. */
const MOST = 12;

/** What the findings of a block say, each once. */
export function distinct(findings) {
  const seen = new Set();
  return findings.filter(({ code, what, where }) => {
    const key = `${code} ${what} ${where?.at}`;
    return !seen.has(key) && seen.add(key);
  });
}

/** Pins for the notes that have a place. */
export function pinned(findings, inUnit) {
  return distinct(findings)
    .map((note, i) => ({ note, number: i + 1 }))
    .filter(({ note }) => note.where?.at)
    .map(({ note, number }) => ({ at: inUnit(note.where.at), numbers: [number], kind: note.severity }));
}

/** The head of a pin, as it stands in the drawing. */
export function head(number, severity) {
  return h("span", { class: `head ${severity}`, "aria-hidden": "true" }, String(number));
}

/** A list of notes; `go(note)` shows the place of one. */
export function noteList({ go }) {
  const element = h("div", { class: "notes" }, h("p", { class: "count" }, words.notesLater));
  let wanted = null;
  let all = false;
  let shown = [];
  let proved;
  const draw = () => {
    const some = all ? shown : shown.slice(0, MOST);
    fill(element,
      shown.length ? null : h("p", {}, proved ? words.noNotes : words.noNotesHere),
      h("ol", {}, some.map((note, i) => h("li", { "data-note": i + 1, tabindex: -1 },
        head(i + 1, note.severity),
        h("div", {},
          h("p", {}, h("b", {}, `${SEVERITY[note.severity]}. `), sized(capital(note.what)), "."),
          note.mend ? h("p", { class: "mend" }, sized(capital(note.mend)), ".") : null,
          note.where?.at ? wordButton(words.atPlace, () => go(note)) : null)))),
      shown.length > some.length ? wordButton(words.moreNotes(shown.length - some.length), () => {
        all = true;
        draw();
      }) : null);
    if (wanted != null) choose(wanted, true);
  };
  const choose = (number, once = false) => {
    const row = element.querySelector(`[data-note="${number}"]`);
    if (!row) {
      if (once) wanted = number;
      return;
    }
    wanted = null;
    element.querySelector(".held")?.classList.remove("held");
    row.classList.add("held");
    row.focus();
    if (once && shown[number - 1]) go(shown[number - 1]);
  };
  return {
    element,
    choose,
    show(findings, well) {
      shown = distinct(findings);
      proved = well;
      draw();
    },
  };
}

/** A sentence begins with a capital and ends without a stop (the list sets it). */
export function capital(text) {
  const trimmed = text.trim().replace(/\.$/u, "");
  return trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
}
