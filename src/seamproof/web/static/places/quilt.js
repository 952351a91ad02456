// Top, Cloth and Programme: what they show, and the forms that change the quilt file.

import { h, fill, picture } from "../element.js";
import { swatch } from "../hatches.js";
import { printed, sized } from "../lettering.js";
import { get } from "../server.js";
import { factList, heading, show } from "../shell.js";
import { known, on } from "../state.js";
import { words } from "../words.js";
import { gathered, head as pinHead, capital } from "./notes.js";
import { fabricForms, settingForm } from "./quilt_forms.js";

export const top = () => place("top", words.topTitle, topBody);
export const cloth = () => place("cloth", words.clothTitle, clothBody);
export const programme = () => place("programme", words.programmeTitle, programmeBody);

async function place(name, title, draw) {
  const head = heading(title, "");
  const body = h("div", { class: `body ${name}` });
  const state = {};
  show(title, head, body);

  let asked = 0;

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
    body.classList.toggle("before", waits);
    body.dataset.since = waits ? words.workingSince(new Date().toTimeString().slice(0, 8)) : "";
    if (waits) return;
    fill(head.querySelector(".facts"), sized(told.line ?? ""));
    draw(body, told, state);
  }

  // Listening before asking: what is ready between the two would else be missed.
  const stops = [
    on("project", read),
    on("heard", (open) => open && body.classList.contains("before") && read()),
    on("panel", (event) => event.panel === name && read()),
    on("progress", ({ job, done, of, what }) => {
      if (job === name) body.dataset.since = words.workingOn(what, done, of);
    }),
  ];
  await read();
  return () => [...stops, ...head.stops].forEach((stop) => stop());
}

function missing(told) {
  return told.missing
    ? h("div", { class: "empty" }, h("p", {}, sized(told.missing)), told.mend ? h("p", {}, sized(told.mend)) : null)
    : null;
}

function tables(told) {
  return (told.tables ?? []).map((table) =>
    h("section", {}, h("h2", {}, sized(table.title)), factList(table.rows)));
}

function notes(told) {
  const found = gathered(told.findings ?? []);
  return found.length ? h("section", { class: "notes" }, h("h2", {}, words.notes),
    h("ol", {}, found.map((note, i) => h("li", {}, pinHead(i + 1, note.severity),
      h("div", {}, h("p", {}, sized(capital(note.what)), "."),
        note.mend ? h("p", { class: "mend" }, sized(capital(note.mend)), ".") : null))))) : null;
}

function facts(told, title = words.facts) {
  return told.facts?.length ? h("section", {}, h("h2", {}, title), factList(told.facts.map(([name, value]) => [name.replace(/^– /u, ""), value]))) : null;
}

function caution(told) {
  return told.caution ? h("p", { class: "caution" }, h("b", {}, told.caution.title), ". ", told.caution.text) : null;
}

function topBody(body, told) {
  const form = h("div");
  const [front, ...others] = told.pictures ?? [];
  fill(body,
    h("div", { class: "middle" }, missing(told),
      front ? h("div", { class: "picture-board top-board" }, picture(front.svg, words.topTitle)) : null,
      others.map((one) => h("details", {}, h("summary", {}, one.title),
        h("figure", { class: "picture-board top-board" }, picture(one.svg, one.title),
          one.caption ? h("figcaption", {}, sized(one.caption)) : null))),
      form),
    h("div", { class: "right" }, facts(told), tables(told), caution(told), notes(told)));
  settingForm(form);
}

/** One fabric at a time: its diagrams; beside them what to buy of all. */
function clothBody(body, told, state) {
  const titles = [...new Set((told.pictures ?? []).map(({ title }) => title))];
  const title = titles.includes(state.title) ? state.title : titles[0];
  const fabricOf = (one) =>
    known.project.fabrics.find(({ letter }) => one?.endsWith(` ${printed(letter)}`));
  const fabric = fabricOf(title);
  const form = h("div");
  fill(body,
    h("div", { class: "middle" }, missing(told),
      titles.length ? h("div", { class: "fabric-row", role: "group", "aria-label": words.fabrics },
        titles.map((one) => {
          const mine = fabricOf(one);
          return h("button", {
            type: "button", class: "fabric-tab", "data-title": one, "aria-pressed": String(one === title),
            onclick: () => {
              state.title = one;
              clothBody(body, told, state);
              [...body.querySelectorAll("[data-title]")].find((b) => b.dataset.title === one).focus();
            },
          }, mine ? swatch(mine, 24) : null, h("b", {}, mine ? printed(mine.letter) : named(told)),
          mine ? h("span", { class: "unseen" }, ` ${mine.name}`) : null);
        })) : null,
      title ? [h("h2", {}, fabric ? `${printed(fabric.letter)}, ${fabric.name}` : named(told)),
        told.pictures.filter((one) => one.title === title).map((one) =>
          h("div", { class: "picture-board paper" }, picture(one.svg, words.diagram(title))))] : null),
    h("div", { class: "right" }, facts(told, words.amounts), fabric ? form : null, tables(told),
      caution(told), notes(told)));
  if (fabric) fabricForms(form, fabric);
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

function programmeBody(body, told) {
  fill(body,
    h("div", { class: "middle" }, missing(told),
      h("div", { class: "releases" }, (told.tables ?? []).map(release))),
    h("div", { class: "right" }, facts(told, words.oneQuilt), notes(told)));
}
