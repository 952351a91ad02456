// Top, Cloth and Programme: what they show, and the forms that change the quilt file.

import { h, fill, picture } from "../element.js";
import { swatch } from "../hatches.js";
import { printed, sized } from "../lettering.js";
import { get } from "../server.js";
import { factList, heading, show, wordButton } from "../shell.js";
import { known, on } from "../state.js";
import { words } from "../words.js";
import { gathered, head as pinHead, capital } from "./notes.js";
import { layout } from "./layout.js";
import { fabricForm, newFabricForm, quiltFile, refusalWords, saveQuilt } from "./quilt_forms.js";
import { programmeForm } from "./programme_form.js";
import { topForm } from "./top_forms.js";

export const top = () => place("top", words.topTitle, topDesk);
export const cloth = () => place("cloth", words.clothTitle, clothDesk);
export const programme = () => place("programme", words.programmeTitle, programmeDesk);

/** A place of the quilt: `desk(body)` gives {draw(told), file(told)}: the first draws what is worked
 * out, the second what the quilt file says, which is there at once. */
async function place(name, title, desk) {
  const head = heading(title, "");
  const body = h("div", { class: `body ${name}` });
  const made = desk(body);
  show(title, head, body);

  let asked = 0;
  let reading = 0;

  async function read() {
    const mine = ++asked;
    let told;
    try {
      told = await get(`/api/${name}`);
    } catch (problem) {
      if (problem.status === undefined) throw problem;
      told = { missing: problem.message || words.silentShort, mend: problem.told.mend, findings: [] };
    }
    if (mine !== asked) return; // a newer question is under way
    const waits = told.status === 202;
    made.view.classList.toggle("before", waits);
    made.view.dataset.since = waits ? words.workingSince(new Date().toTimeString().slice(0, 8)) : "";
    if (waits) return;
    fill(head.querySelector(".facts"), sized(told.line ?? ""));
    made.draw(told);
  }

  async function readFile() {
    const mine = ++reading;
    try {
      const file = await quiltFile();
      if (mine === reading) made.file(file);
    } catch (problem) {
      if (problem.status === undefined) throw problem; // the view says what is wrong
    }
  }

  // Listening before asking: what is ready between the two would else be missed.
  const stops = [
    on("project", read),
    on("project", readFile),
    on("heard", (open) => open && made.view.classList.contains("before") && read()),
    on("panel", (event) => event.panel === name && read()),
    on("progress", ({ job, done, of, what }) => {
      if (job === name) made.view.dataset.since = words.workingOn(what, done, of);
    }),
    made.stop ?? (() => {}),
  ];
  await Promise.all([read(), readFile()]);
  return () => [...stops, ...head.stops].forEach((stop) => stop());
}

/** A form is drawn anew when the file changed, but never under hands that are typing in it. */
function renewed(element, form) {
  const old = element.querySelector("form");
  const held = old?.contains(document.activeElement) || old?.dataset.held === "yes";
  if (old?.dataset.dirty || (held && !old.dataset.saved)) return;
  fill(element, form);
  if (held) form?.querySelector("[type=submit]").focus();
}

function missing(told) {
  return told.missing
    ? h("div", { class: "empty" }, h("p", {}, sized(told.missing)), told.mend ? h("p", {}, sized(told.mend)) : null)
    : null;
}

/** Rows whose names do without the dash that stands for a letter. */
function plainly(rows) {
  return rows.map(([name, value]) => [name.replace(/^– /u, ""), value]);
}

function tables(told) {
  return (told.tables ?? []).map((table) =>
    h("section", {}, h("h2", {}, sized(table.title)), factList(plainly(table.rows))));
}

/** Below this number notes speak of one block: Proof has them, with a way to their place. */
const OF_THE_QUILT = 600;

function notes(told, go = null) {
  const found = gathered(told.findings ?? []).map((note, i) => ({ ...note, pin: i + 1 }));
  const mine = found.filter(({ code, severity }) => code >= OF_THE_QUILT || severity === "error");
  const others = found.length - mine.length;
  return found.length ? h("section", { class: "notes" }, h("h2", {}, words.notes),
    h("ol", {}, mine.map((note, i) => h("li", {}, pinHead(go ? note.pin : i + 1, note.severity),
      h("div", {}, h("p", {}, sized(capital(note.what)), "."),
        note.mend ? h("p", { class: "mend" }, sized(capital(note.mend)), ".") : null,
        go && note.paths.length ? wordButton(words.atPlaces(1), () => go(note.paths[0])) : null)))),
    others ? h("p", { class: "count" }, h("a", { class: "word", href: "#proof" }, words.notesOfBlocks(others))) : null) : null;
}

function facts(told, title = words.facts) {
  return told.facts?.length ? h("section", {}, h("h2", {}, title), factList(plainly(told.facts))) : null;
}

function caution(told) {
  return told.caution ? h("p", { class: "caution" }, h("b", {}, told.caution.title), ". ", told.caution.text) : null;
}

function topDesk(body) {
  const fault = h("p", { class: "fault-words", role: "alert" });
  const view = h("div", { class: "view-now" });
  const formPlace = h("div", { class: "top-form" });
  const right = h("div", { class: "right" });
  let file = null;
  let told = {};
  let saving = Promise.resolve();
  let waiting = 0;

  /** One change after the other; each is made to what the one before it left. What is read of the
   * file until all are saved is older than what is shown. */
  function save(what, changes) {
    waiting += 1;
    saving = saving.then(async () => {
      try {
        file = { ...file, revision: await saveQuilt(what, changes, file.revision) };
        fill(fault);
      } catch (problem) {
        fill(fault, sized(refusalWords(problem)));
        if (problem.status === 412) file = await quiltFile();
      } finally {
        waiting -= 1;
      }
      if (!waiting) made.file(await quiltFile());
    });
  }
  const rows = layout(save);
  const go = (path) => {
    if (path[1] === "rows") rows.go(path);
    else formPlace.querySelector(`[data-path="${path.slice(0, 2).join("/")}"]`)?.focus();
  };
  fill(body, h("div", { class: "middle" }, rows.element, fault, view, formPlace), right);

  function marked() {
    const found = gathered(told.findings ?? []);
    for (const group of formPlace.querySelectorAll("[data-path]")) {
      const mine = found.filter(({ paths }) => paths.some((one) => one.slice(0, 2).join("/") === group.dataset.path));
      fill(group.querySelector(".group-notes"), mine.map((note) =>
        h("p", { class: note.severity === "error" ? "fault-words" : "count" }, sized(capital(note.what)), ".")));
    }
    if (!waiting) rows.show(file?.values, found);
  }

  const made = {
    view,
    stop: rows.stop,
    file(now) {
      if (waiting) return;
      file = now;
      if (file.values.setting?.rows) renewed(formPlace, topForm(file));
      marked();
    },
    draw(now) {
      told = now;
      const [front, ...others] = told.pictures ?? [];
      fill(view, file?.values.setting?.rows ? missing(told) : null,
        front ? h("div", { class: "picture-board top-board" }, picture(front.svg, words.topTitle)) : null,
        others.map((one) => h("details", {}, h("summary", {}, one.title),
          h("figure", { class: "picture-board top-board" }, picture(one.svg, one.title),
            one.caption ? h("figcaption", {}, sized(one.caption)) : null))));
      fill(right, facts(told), tables(told), caution(told), notes(told, go));
      marked();
    },
  };
  return made;
}

/** One fabric at a time: its diagrams; beside them what to buy of all. */
function clothDesk(body) {
  const view = h("div", { class: "view-now" });
  const formPlace = h("div");
  const newPlace = h("details", { open: !known.project.fabrics.length }, h("summary", {}, words.addFabric), h("div"));
  const right = h("div", { class: "right" });
  const tabs = h("div", { class: "fabric-row", role: "group", "aria-label": words.fabrics });
  const forms = h("div", { class: "cloth-forms" }, formPlace, newPlace);
  let told = {};
  let file = null;
  let chosen = null;
  fill(body, h("div", { class: "middle" }, tabs, view, forms), right);

  const letterOf = (title) => known.project.fabrics.find(({ letter }) => title.endsWith(` ${printed(letter)}`))?.letter ?? title;

  function drawTabs() {
    // Every fabric of the quilt, and what is laid without having a letter.
    const loose = (told.pictures ?? []).map(({ title }) => letterOf(title));
    const all = [...new Set([...known.project.fabrics.map(({ letter }) => letter), ...loose])];
    if (!all.includes(chosen)) chosen = all[0] ?? null;
    fill(tabs, all.map((letter) => {
      const mine = known.project.fabrics.find((one) => one.letter === letter);
      return h("button", {
        type: "button", class: "fabric-tab", "data-letter": letter, "aria-pressed": String(letter === chosen),
        onclick: () => {
          chosen = letter;
          delete formPlace.querySelector("form")?.dataset.dirty;
          drawTabs();
          drawView();
          tabs.querySelector("[aria-pressed=true]").focus();
          drawForms();
        },
      }, mine ? swatch(mine, 24) : null, h("b", {}, mine ? printed(letter) : named(told)),
      mine ? h("span", { class: "unseen" }, ` ${mine.name}`) : null);
    }));
  }

  function drawView() {
    const fabric = known.project.fabrics.find(({ letter }) => letter === chosen);
    fill(view, missing(told), chosen && [
      h("h2", {}, fabric ? `${printed(fabric.letter)}, ${fabric.name}` : named(told)),
      (told.pictures ?? []).filter(({ title }) => letterOf(title) === chosen).map((one) =>
        h("div", { class: "picture-board paper", tabindex: 0, role: "group", "aria-label": words.diagram(one.title) }, picture(one.svg, words.diagram(one.title)))),
    ]);
  }

  function drawForms() {
    if (!file) return;
    const fabric = known.project.fabrics.find(({ letter }) => letter === chosen);
    if (fabric) renewed(formPlace, fabricForm(fabric, file));
    else fill(formPlace);
    renewed(newPlace.lastElementChild, newFabricForm(file));
  }

  return {
    view,
    file(now) {
      file = now;
      drawTabs();
      drawView();
      drawForms();
    },
    draw(now) {
      told = now;
      drawTabs();
      drawView();
      fill(right, facts(told, words.amounts), tables(told), caution(told), notes(told));
    },
  };
}

/** What cloth without a letter is called: the backing. */
function named(told) {
  const [name] = (told.facts ?? []).find(([text]) => text.startsWith("–")) ?? ["–"];
  return name.replace(/^– /u, "");
}

const STEP = /^(.*?)(?: for)? ?release \d+: (.*)$/iu;

/** A release: what it holds once, and its days under short names. */
function release({ title, rows }) {
  const parts = rows.map(([name, days]) => [STEP.exec(name), name, days]);
  return h("section", {}, h("h2", {}, title),
    h("p", {}, sized(parts[0]?.[0]?.[2] ?? "")),
    factList(parts.map(([found, name, days]) => [found ? found[1] || words.release : name, days])));
}

function programmeDesk(body) {
  const view = h("div", { class: "view-now" });
  const formPlace = h("div");
  const right = h("div", { class: "right" });
  fill(body, h("div", { class: "middle" }, view, formPlace), right);
  return {
    view,
    file(file) {
      renewed(formPlace, programmeForm(file));
    },
    draw(told) {
      fill(view, missing(told), h("div", { class: "releases" }, (told.tables ?? []).map(release)));
      fill(right, facts(told, words.oneQuilt), notes(told));
    },
  };
}
