// Top and Cloth: their pictures and numbers, and forms to change them.

import { h, fill, picture } from "../element.js";
import { sized } from "../lettering.js";
import { get, put } from "../server.js";
import { button, factList, heading, show } from "../shell.js";
import { known, on, say, tell } from "../state.js";
import { words } from "../words.js";

export const top = () => place("top", words.topTitle);
export const cloth = () => place("cloth", words.clothTitle);

async function place(name, title) {
  const head = heading(title, "");
  const body = h("div", { class: `body ${name}` }, h("p", { class: "count" }, words.loading));
  show(title, head, body);
  let told = null;

  async function read() {
    try {
      told = await get(`/api/${name}`);
      if (told.status === 202) {
        body.classList.add("before");
        return;
      }
    } catch (problem) {
      if (problem.status === undefined) throw problem;
      told = { missing: problem.message || words.silentShort, mend: problem.told.mend };
    }
    body.classList.remove("before");
    draw();
  }

  function draw() {
    const fact = told.line ?? told.size ?? "";
    fill(head.querySelector(".facts"), sized(fact));
    const pictures = told.lays ?? told.pictures ?? (told.svg ? [{ svg: told.svg, caption: "" }] : []);
    fill(body,
      h("div", { class: "middle" },
        told.missing ? h("p", { class: "empty" }, sized(told.missing), told.mend ? ` ${told.mend}` : "") : null,
        pictures.map((one) => h("figure", { class: "picture-board" },
          one.title ? h("h2", {}, sized(one.title)) : null, one.svg ? picture(one.svg, one.title ?? title) : null,
          one.caption ? h("figcaption", {}, sized(one.caption)) : null,
          one.facts ? factList(one.facts) : null))),
      h("div", { class: "right" },
        told.facts?.length ? h("section", {}, h("h2", {}, words.facts), factList(told.facts)) : null,
        (told.tables ?? []).map((table) => h("section", {}, h("h2", {}, sized(table.title)),
          factList(table.rows))),
        told.fields?.length ? form(told) : null,
        told.findings?.length ? h("section", {}, h("h2", {}, words.notes),
          h("ul", { class: "advice" }, told.findings.map((note) => h("li", {}, sized(note.what))))) : null));
  }

  /** A form of fields that the program names: {path, label, value, options?, hint?}. */
  function form({ fields, revision }) {
    const fault = h("p", { class: "fault-words", role: "alert" });
    const element = h("form", { class: "asking", onsubmit: async (event) => {
      event.preventDefault();
      const values = new FormData(element);
      const changes = fields
        .map(({ path, value }, i) => ({ path, value: values.get(String(i)).trim() || null, was: value ?? null }))
        .filter(({ value, was }) => value !== was)
        .map(({ path, value }) => ({ path, value }));
      if (!changes.length) return;
      try {
        const answer = await put("/api/quilt", { what: words.quiltChanged(title), changes }, { revision });
        known.saved = answer.saved;
        tell("saved", answer.saved);
        say(words.saved(answer.saved));
        known.project = { ...known.project, ...(await get("/api/project")) };
        tell("project");
        await read();
      } catch (problem) {
        if (problem.status === undefined) throw problem;
        const { sentence, mend } = problem.told;
        fill(fault, words.notSaved([sentence ?? words.silentShort, mend].filter(Boolean).join(". ")));
      }
    } }, h("h2", {}, words.change), fields.map((field, i) => h("label", { class: "field" },
      h("span", {}, sized(field.label)),
      field.options ? h("select", { name: String(i) }, field.options.map((option) => {
        const [value, says] = Array.isArray(option) ? option : [option, option];
        return h("option", { value, selected: value === field.value }, says);
      })) : h("input", { name: String(i), type: "text", value: field.value ?? "", autocomplete: "off" }),
      field.hint ? h("small", {}, sized(field.hint)) : null)), fault,
    h("p", { class: "acts" }, button(words.save, () => {}, { type: "submit", class: "button main" })));
    return element;
  }

  await read();
  const stops = [on("project", read), on("panel", (event) => event.panel === name && read())];
  return () => [...stops, ...head.stops].forEach((stop) => stop());
}


