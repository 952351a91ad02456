// The forms of the top: how the blocks lie, sashing, borders, binding, backing and the rest.

import { h, fill } from "../element.js";
import { wordButton } from "../shell.js";
import { known } from "../state.js";
import { words } from "../words.js";
import { choice, fabricChoice, labelled, quiltForm, textBox } from "./quilt_forms.js";

const STRIP = /^(.*\S) +of +(\S+)$/u;

/** A width and its fabric, written as 2 of f; other keys that a group may have make it keys. */
function strip(key, title, was, more = []) {
  const plain = typeof was === "string" || was == null;
  const found = plain ? STRIP.exec(was ?? "") : null;
  const start = plain ? { width: found ? found[1] : was, fabric: found?.[2] } : was;
  const width = textBox(start.width, { size: 8 });
  const fabric = fabricChoice(start.fabric);
  const others = more.map(({ name, says, control }) => ({ name, says, box: control(start[name]) }));
  return {
    path: ["setting", key], title, was,
    fields: [labelled(words.widthIn(known.project.unit), width), labelled(words.ofFabric, fabric),
      ...others.map(({ says, box }) => labelled(says, box))],
    value() {
      const [w, f] = [width.value.trim(), fabric.value];
      const filled = others.filter(({ box }) => box.value.trim());
      if (plain && !filled.length) return w ? (f ? `${w} of ${f}` : w) : f ? { fabric: f } : null;
      const made = { ...(plain ? {} : was) };
      const put = (name, value) => {
        if (value) made[name] = value;
        else delete made[name];
      };
      put("width", w);
      put("fabric", f);
      for (const { name, box } of others) put(name, box.value.trim());
      return Object.keys(made).length ? made : null;
    },
  };
}

/** Keys of one group, each a control. */
function keyed(key, title, was, parts) {
  const boxes = parts.map(({ name, says, control }) => ({ name, says, box: control(was?.[name]) }));
  return {
    path: ["setting", key], title, was,
    fields: boxes.map(({ says, box }) => labelled(says, box)),
    value() {
      const made = { ...was };
      for (const { name, box } of boxes) {
        if (box.value.trim()) made[name] = box.value.trim();
        else delete made[name];
      }
      return Object.keys(made).length ? made : null;
    },
  };
}

function single(key, says, control, was, hint) {
  return {
    path: ["setting", key], was: was ?? null, title: says,
    fields: [labelled(says, control, hint)], value: () => control.value.trim() || null,
  };
}

/** A list that grows: `row(value)` gives {fields, value()} for an entry. */
function listed(key, title, was, row, says) {
  const place = h("div", { class: "entries" });
  const rows = [];
  const asked = Array.isArray(was) ? was : was ? [was] : [];
  const add = (value) => {
    const made = row(value);
    const box = h("div", { class: "entry" });
    fill(box, h("div", { class: "fields" }, made.fields),
      wordButton(says.remove, () => {
        rows.splice(rows.indexOf(made), 1);
        box.remove();
        place.closest("form").dataset.dirty = "yes";
        adding.focus();
      }));
    rows.push(made);
    place.append(box);
    return box;
  };
  asked.forEach(add);
  const adding = wordButton(says.add, () => {
    place.closest("form").dataset.dirty = "yes";
    add(says.fresh).querySelector("input, select").focus();
  });
  return {
    path: ["setting", key], title, was,
    fields: [place, says.hint ? h("p", { class: "count" }, says.hint) : null, h("p", { class: "acts" }, adding)],
    value: () => {
      const made = rows.map((one) => one.value()).filter(Boolean);
      return made.length ? made : null;
    },
  };
}

function border(value = {}) {
  const width = textBox(value.width, { size: 6 });
  const fabric = fabricChoice(value.fabric);
  const corners = choice(value.corners, [["", words.cornersUsual], ...words.cornerKinds]);
  const squares = fabricChoice(value["corner squares"], words.noSquares);
  return {
    fields: [labelled(words.widthIn(known.project.unit), width), labelled(words.ofFabric, fabric),
      labelled(words.corners, corners), labelled(words.cornerSquares, squares)],
    value() {
      const made = { ...value, width: width.value.trim(), fabric: fabric.value, corners: corners.value,
        "corner squares": squares.value };
      for (const name of Object.keys(made)) if (!made[name]) delete made[name];
      return made.width || made.fabric ? made : null;
    },
  };
}

/** Frames round blocks that are smaller than a cell: the strips of each, from the block outwards. */
function coping(was) {
  const entries = Object.entries(was ?? {}).map(([title, strips]) => ({ title, strips }));
  const made = listed("coping", words.coping, entries, ({ title, strips } = {}) => {
    const block = choice(title, [["", words.whichBlock], ...known.project.blocks.map((one) => [one.title, one.title])]);
    const text = textBox([strips ?? []].flat().join(", "));
    return {
      fields: [labelled(words.copingOf, block), labelled(words.copingStrips, text)],
      value: () => {
        const list = text.value.split(",").map((one) => one.trim()).filter(Boolean);
        return block.value && list.length ? [block.value, typeof strips === "string" && list.length === 1 ? list[0] : list] : null;
      },
    };
  }, { add: words.addCoping, remove: words.takeOut, hint: words.copingHint });
  const list = made.value;
  return { ...made, was, value: () => (list() ? Object.fromEntries(list()) : null) };
}

/** Everything about the top but its rows. */
export function topForm(file) {
  const values = file.values.setting ?? {};
  const { unit } = known.project;
  const size = Array.isArray(values.cell) ? values.cell.join(" × ") : values.cell;
  const cell = textBox(size);
  const text = (says) => ({ says, control: (value) => textBox(value, { size: 8 }) });
  const groups = [
    single("way", words.way, choice(values.way, [["", words.ways_.straight], ["on point", words.ways_.point]]
      .concat(values.way === "straight" ? [["straight", words.ways_.straight]] : [])
      .filter(([key]) => values.way !== "straight" || key !== "")), values.way),
    { ...single("cell", words.cell, cell, null, words.cellHint), was: values.cell ?? null, value: () => {
      const sides = cell.value.split(/[×x]/u).map((one) => one.trim()).filter(Boolean);
      return sides.length ? (sides.length === 1 ? sides[0] : sides) : null;
    } },
    strip("sashing", words.sashing, values.sashing),
    single("cornerstones", words.cornerstones, fabricChoice(values.cornerstones), values.cornerstones),
    single("outer sashing", words.outerSashing, choice(values["outer sashing"], [["", words.yes], ["no", words.no]]
      .concat(values["outer sashing"] === "yes" ? [["yes", words.yes]] : [])), values["outer sashing"]),
    values.way === "on point"
      ? single("triangles", words.settingTriangles, fabricChoice(values.triangles), values.triangles) : null,
    coping(values.coping),
    listed("borders", words.borders, values.borders, border, { add: words.addBorder, remove: words.takeOut, fresh: { width: unit === "cm" ? "10" : "4" } }),
    strip("binding", words.binding, values.binding, [
      { name: "way", says: words.bindingWay, control: (value) => choice(value, [["", words.acrossGrain], ["bias", words.onBias]]
        .concat(value === "cross-grain" ? [["cross-grain", words.acrossGrain]] : [])) },
    ]),
    keyed("backing", words.backing, values.backing, [
      { name: "fabric", says: words.ofFabric, control: (value) => fabricChoice(value) },
      { name: "width", ...text(words.clothWidth) },
      { name: "margin", ...text(words.margin) },
    ]),
    single("batting", words.batting, textBox(values.batting, { size: 8 }), values.batting),
    strip("sleeve", words.sleeve, values.sleeve),
    keyed("label", words.label, values.label, [
      { name: "width", ...text(words.widthIn(unit)) },
      { name: "height", ...text(words.heightIn(unit)) },
      { name: "fabric", says: words.ofFabric, control: (value) => fabricChoice(value) },
    ]),
  ].filter(Boolean);
  for (const group of groups) group.was ??= null;
  return quiltForm({ title: words.changeTop, what: words.topChanged, groups, file });
}
