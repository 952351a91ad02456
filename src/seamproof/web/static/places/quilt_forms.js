// Forms that change values of the quilt file: a fabric, how the blocks lie. What a form does not
// name stays as it is written.

import { h, fill } from "../element.js";
import { sized } from "../lettering.js";
import { get, put } from "../server.js";
import { button } from "../shell.js";
import { known, say, tell } from "../state.js";
import { words } from "../words.js";

/** A form of fields {path, label, value, options?, hint?, kind?}; saved in one step. */
function quiltForm(place, title, what, fields, revision) {
  const fault = h("p", { class: "fault-words", role: "alert" });
  const form = h("form", { class: "asking", onsubmit: async (event) => {
    event.preventDefault();
    const values = new FormData(form);
    const changes = fields
      .map(({ path, value }, i) => ({ path, value: values.get(String(i)).trim(), was: value ?? "" }))
      .filter(({ value, was }) => value !== was)
      .map(({ path, value }) => ({ path, value: value || null }));
    if (!changes.length) return;
    try {
      const answer = await put("/api/quilt", { what, changes }, { revision });
      known.saved = answer.saved;
      const told = await get("/api/project");
      known.project = { ...known.project, ...told };
      known.history = { undo: told.undo ?? null, redo: told.redo ?? null };
      say(words.saved(answer.saved));
      tell("saved", answer.saved);
      tell("history");
      tell("project");
    } catch (problem) {
      if (problem.status === undefined) throw problem;
      const { sentence, mend } = problem.told;
      fill(fault, sized(words.notSaved([sentence ?? words.silentShort, mend].filter(Boolean).join(" "))));
    }
  } }, h("h2", {}, title), fields.map((field, i) => h("label", { class: "field" },
    h("span", {}, sized(field.label)), control(field, i),
    field.hint ? h("small", { class: "count" }, sized(field.hint)) : null)), fault,
  h("p", { class: "acts" }, button(words.save, () => {}, { type: "submit" })));
  fill(place, form);
}

function control({ value, options, kind }, i) {
  if (options) {
    return h("select", { name: String(i) }, options.map(([key, says]) =>
      h("option", { value: key, selected: key === (value ?? "") }, says)));
  }
  return h("input", {
    name: String(i), type: kind ?? "text", value: value ?? "", autocomplete: "off",
  });
}

async function quiltFile() {
  try {
    return await get("/api/quilt");
  } catch (problem) {
    if (problem.status === undefined) throw problem;
    return null; // there is none: the quilt has no fabrics of its own
  }
}

/** What a fabric is called, its colour, its width, its price. */
export async function fabricForms(place, { letter, name, colour }) {
  const file = await quiltFile();
  const number = (file?.values.fabrics ?? []).findIndex((one) => one.letter === letter);
  if (number < 0) return;
  const values = file.values.fabrics[number];
  const path = (key) => ["fabrics", String(number), key];
  quiltForm(place, words.changeFabric(name), words.fabricChanged, [
    { path: path("name"), label: words.fabricName, value: values.name },
    { path: path("colour"), label: words.fabricColour, value: (values.colour ?? colour).toLowerCase(), kind: "color" },
    { path: path("usable width"), label: words.usableWidth, value: values["usable width"], hint: words.widthHint },
    { path: path("directional"), label: words.directional, value: values.directional,
      options: [["", words.no], ["yes", words.yes], ["no", words.no]].filter(([key]) => key !== "no" || values.directional === "no") },
    { path: path("price"), label: words.price, value: values.price },
  ], file.revision);
}

/** How the blocks lie and what finishes them. Each row is a line of block names. */
export async function settingForm(place) {
  const file = await quiltFile();
  if (!file) return;
  const values = file.values.setting ?? {};
  const at = (...keys) => ["setting", ...keys];
  const plain = (value) => (typeof value === "string" || value == null ? value ?? "" : null);
  const some = [
    { path: at("way"), label: words.way, value: plain(values.way),
      options: [["", words.ways_.straight], ["straight", words.ways_.straight], ["on point", words.ways_.point]]
        .filter(([key]) => (values.way ? key !== "" : key !== "straight")) },
    { path: at("cell"), label: words.cell, value: plain(values.cell), hint: words.cellHint },
    { path: at("sashing"), label: words.sashing, value: plain(values.sashing), hint: words.stripHint },
    { path: at("cornerstones"), label: words.cornerstones, value: plain(values.cornerstones), hint: words.letterHint },
    { path: at("binding"), label: words.binding, value: plain(values.binding), hint: words.stripHint },
    { path: at("batting"), label: words.batting, value: plain(values.batting) },
    { path: at("sleeve"), label: words.sleeve, value: plain(values.sleeve), hint: words.stripHint },
  ].filter(({ value }) => value !== null);
  if (values.rows) quiltForm(place, words.changeTop, words.topChanged, some, file.revision);
  else fill(place, h("p", { class: "count" }, words.rowsInFile));
}
