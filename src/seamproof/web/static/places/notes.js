// Notes: pins in the drawing and the list beside it. Choosing one moves the eye to the other.

import { h, fill } from "../element.js";
import { sized } from "../lettering.js";
import { wordButton } from "../shell.js";
import { SEVERITY, words } from "../words.js";

/** Notes that are listed at once. */
const MOST = 12;

/** What the findings of a block say: what is said of several places is one note. */
export function gathered(findings) {
  const notes = new Map();
  for (const { code, severity, what, mend, where, path } of findings) {
    const key = `${severity} ${what} ${mend}`;
    const note = notes.get(key) ?? { code, severity, what, mend, places: [], paths: [] };
    const at = where?.at;
    if (at && !note.places.some((p) => p[0] === at[0] && p[1] === at[1])) note.places.push(at);
    if (path?.length) note.paths.push(path);
    notes.set(key, note);
  }
  return [...notes.values()];
}

/** Pins for the notes that have a place. */
export function pinned(findings, inUnit) {
  return gathered(findings).flatMap(({ severity, places }, i) =>
    places.map((at) => ({ at: inUnit(at), numbers: [i + 1], kind: severity })));
}

/** The head of a pin, as it stands in the drawing. */
export function head(number, severity) {
  return h("span", { class: `head ${severity}`, "aria-hidden": "true" }, String(number));
}

/** A list of notes; `go(note, at)` shows a place of one, if places can be shown here. */
export function noteList({ go = null, says = null } = {}) {
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
          note.places.length && go
            ? wordButton(says ?? words.atPlaces(note.places.length), () => goOn(note)) : null)))),
      shown.length > some.length ? wordButton(words.moreNotes(shown.length - some.length), () => {
        all = true;
        draw();
      }) : null);
    if (wanted != null) choose(wanted, true);
  };
  /** Shows the places of a note one after the other. */
  const goOn = (note) => {
    note.next = ((note.next ?? -1) + 1) % note.places.length;
    go(note, note.places[note.next]);
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
    if (once && shown[number - 1]?.places.length) goOn(shown[number - 1]);
  };
  return {
    element,
    choose,
    show(findings, well) {
      shown = gathered(findings);
      proved = well;
      draw();
    },
  };
}

/** Notes that speak of a thick spot, by their numbers: its seams are on the back. */
const THICK = new Set([401, 402, 403]);

export function thick({ code, places }) {
  return THICK.has(code) && places.length > 0;
}

/** A place in inches as an address of Back has it. */
export function seamsPlace([x, y]) {
  return `${x.toFixed(3)},${y.toFixed(3)}`;
}

/** A sentence begins with a capital and ends without a stop (the list sets it). */
export function capital(text) {
  const trimmed = text.trim().replace(/\.$/u, "");
  return trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
}
