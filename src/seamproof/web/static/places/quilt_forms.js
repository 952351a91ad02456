// Forms that change values of the quilt file. What a form does not name stays as it is written.

import { h, fill } from "../element.js";
import { printed, sized } from "../lettering.js";
import { get, put } from "../server.js";
import { button, wordButton } from "../shell.js";
import { known, say, tell } from "../state.js";
import { words } from "../words.js";

/** The quilt file as it is told: its values and its revision. */
export function quiltFile() {
  return get("/api/quilt");
}

/** Changes values of the quilt file in one step; gives back the new revision. Throws Refused.
 * `accepted` is called when they are saved, before anything is drawn anew. */
export async function saveQuilt(what, changes, revision, accepted = () => {}) {
  const answer = await put("/api/quilt", { what, changes }, { revision });
  accepted();
  known.saved = answer.saved;
  const told = await get("/api/project");
  known.project = { ...known.project, ...told };
  known.history = { undo: told.undo ?? null, redo: told.redo ?? null };
  tell("saved", answer.saved);
  tell("history");
  tell("project");
  return answer.revision;
}

/** Why something was not saved, in a sentence. */
export function refusalWords(problem) {
  if (problem.status === undefined) throw problem;
  const { sentence, mend } = problem.told;
  return words.notSaved([sentence ?? words.silentShort, mend].filter(Boolean).join(" "));
}

/** A form of groups of fields: {title, path, fields: [{label, control, hint}], value(), was}; one
 * step for all that are changed. `value()` gives what shall stand at the path, null for nothing. */
export function quiltForm({ title, what, groups, file }) {
  const fault = h("p", { class: "fault-words", role: "alert" });
  const form = h("form", { class: "asking", onsubmit: async (event) => {
    event.preventDefault();
    const changes = groups.flatMap((group) => {
      const value = group.value();
      const same = JSON.stringify(value) === JSON.stringify(group.was ?? null);
      return same ? [] : [{ path: group.path, value }];
    });
    if (!changes.length) {
      say(words.nothingChanged);
      return;
    }
    // From here until it is drawn anew it speaks of a file that is no more: what would be typed
    // now would be lost, or refused as made to an older one.
    const held = form.contains(document.activeElement);
    if (held) form.dataset.held = "yes";
    resting(form, true);
    try {
      const revision = await baseOf(changes, file);
      // Until it is saved, what was typed must not give way to what another change brings.
      await saveQuilt(what, changes, revision, () => {
        delete form.dataset.dirty;
        form.dataset.saved = "yes";
      });
      say(words.saved(known.saved));
    } catch (problem) {
      resting(form, false);
      if (held) form.querySelector("[type=submit]").focus();
      form.dataset.dirty = "yes";
      delete form.dataset.saved;
      delete form.dataset.held;
      fill(fault, sized(refusalWords(problem)), " ", problem.status !== 412 ? null
        : wordButton(words.showSaved, () => {
          delete form.dataset.dirty;
          tell("project");
        }));
    }
  }, oninput: () => { form.dataset.dirty = "yes"; } },
  title ? h("h2", {}, title) : null,
  h("div", { class: "groups" }, groups.map((group) => (group.title
    ? h("fieldset", { class: "group", "data-path": group.path.join("/"), tabindex: -1 },
      h("legend", {}, group.title), h("div", { class: "fields" }, group.fields),
      h("div", { class: "group-notes" })) : group.fields))),
  fault,
  h("p", { class: "acts" }, button(words.save, () => {}, { type: "submit" })));
  return form;
}

/** Whether a form takes anything just now. */
function resting(form, rests) {
  for (const control of form.elements) control.disabled = rests;
}

/** The revision that changes are made to: the newest one if nothing of what they change has changed
 * since the form was drawn, else that of the form, which the program then refuses. */
async function baseOf(changes, file) {
  const now = await quiltFile();
  const at = (values, path) => JSON.stringify(path.reduce((value, key) => value?.[key], values) ?? null);
  const same = changes.every(({ path }) => at(now.values, path) === at(file.values, path));
  return same ? now.revision : file.revision;
}

let numbers = 0;

/** A field with its label. */
export function labelled(says, control, hint = null) {
  const id = `field-${(numbers += 1)}`;
  control.id = id;
  return h("div", { class: "field" }, h("label", { for: id }, sized(says)), control,
    hint ? h("small", { class: "count" }, sized(hint)) : null);
}

export function textBox(value, { kind = "text", size = null } = {}) {
  return h("input", { type: kind, value: value ?? "", autocomplete: "off", size });
}

export function choice(value, options) {
  const all = options.some(([key]) => key === (value ?? "")) ? options : [...options, [value, value]];
  return h("select", {}, all.map(([key, says]) =>
    h("option", { value: key, selected: key === (value ?? "") }, says)));
}

/** Which fabric; nothing is a choice too. */
export function fabricChoice(value, none = words.noFabric) {
  return choice(value, [["", none], ...known.project.fabrics.map(({ letter, name }) =>
    [letter, `${printed(letter)}, ${name}`])]);
}

/** One text at the end of a path. */
export function plainGroup(path, says, control, was, hint) {
  return { path, was: was ?? null, fields: labelled(says, control, hint), value: () => control.value.trim() || null };
}

/** What a fabric is called, its colour, its width, its price. */
export function fabricForm({ letter, name, colour }, file) {
  const number = (file.values.fabrics ?? []).findIndex((one) => one.letter === letter);
  if (number < 0) return null;
  const values = file.values.fabrics[number];
  const group = (key, says, control, hint) =>
    plainGroup(["fabrics", String(number), key], says, control, values[key], hint);
  const was = (values.colour ?? colour).toLowerCase();
  const colours = textBox(was, { kind: "color" });
  return quiltForm({
    title: words.changeFabric(name), what: words.fabricChanged, file, groups: [
      group("name", words.fabricName, textBox(values.name)),
      { path: ["fabrics", String(number), "colour"], was, fields: labelled(words.fabricColour, colours), value: () => colours.value },
      group("value", words.fabricValue, choice(values.value, [["", words.byColour], ...words.values])),
      group("usable width", words.usableWidth, textBox(values["usable width"]), words.widthHint),
      group("directional", words.directional, choice(values.directional, [["", words.no], ["yes", words.yes]])),
      group("price", words.price, textBox(values.price)),
    ],
  });
}

/** One more fabric, under the next free letter. */
export function newFabricForm(file) {
  const fabrics = file.values.fabrics ?? [];
  const free = [..."abcdefghjklmnprstuvwxy"].find((one) => fabrics.every(({ letter }) => letter !== one));
  if (!free) return null;
  const name = textBox("");
  const colour = textBox("#b8b4aa", { kind: "color" });
  const made = () => (name.value.trim() ? { letter: free, name: name.value.trim(), colour: colour.value } : null);
  const group = fabrics.length
    ? { path: ["fabrics", String(fabrics.length)], value: made }
    : { path: ["fabrics"], value: () => made() && [made()] };
  return quiltForm({
    title: null, what: words.fabricAdded, file,
    groups: [{ ...group, was: null, fields: [labelled(words.fabricName, name), labelled(words.fabricColour, colour)] }],
  });
}
