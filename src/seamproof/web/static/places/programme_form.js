// The form of the programme: when it goes out, to how many, what is in a kit.

import { wordButton } from "../shell.js";
import { h, fill } from "../element.js";
import { known } from "../state.js";
import { words } from "../words.js";
import { choice, labelled, plainGroup, quiltForm, textBox } from "./quilt_forms.js";

/** What each release holds: block titles on a line each. One that is written with more than blocks
 * stays as it is. */
function releases(was) {
  const asked = was ?? [];
  const text = (one) => (typeof one === "string" ? one : Array.isArray(one) ? one.join(" + ") : null);
  const rows = [];
  const place = h("ol", { class: "entries" });
  const draw = () => fill(place, rows.map((row, i) => h("li", { class: "entry" },
    h("div", { class: "fields" }, row.fixed != null ? h("p", {}, words.releaseWithMore([row.fixed.blocks ?? []].flat().join(" + "))) : row.field),
    h("p", { class: "acts" },
      i > 0 ? wordButton(words.earlier, () => moved(i, i - 1)) : null,
      i < rows.length - 1 ? wordButton(words.later, () => moved(i, i + 1)) : null,
      wordButton(words.takeOut, () => {
        rows.splice(i, 1);
        dirty();
      })))));
  const dirty = () => {
    draw();
    const form = place.closest("form");
    if (form) form.dataset.dirty = "yes";
  };
  const moved = (from, to) => {
    rows.splice(to, 0, ...rows.splice(from, 1));
    dirty();
  };
  const add = (value) => {
    const shown = text(value);
    if (shown == null) rows.push({ fixed: value, value: () => value });
    else {
      const titles = known.project.blocks.map(({ title }) => [title, title]);
      const box = choice(shown, [["", words.whichBlock], ...titles]);
      rows.push({
        field: labelled(words.releaseOf, box),
        value: () => (box.value.includes(" + ") ? box.value.split(" + ") : box.value),
      });
    }
  };
  asked.forEach(add);
  draw();
  return {
    path: ["programme", "releases"], title: words.releases, was: was ?? null,
    fields: [place, h("p", { class: "acts" }, wordButton(words.addRelease, () => {
      add("");
      dirty();
    }))],
    value: () => {
      const made = rows.map((row) => row.value()).filter((one) => (Array.isArray(one) ? one.length : one));
      return made.length ? made : null;
    },
  };
}

export function programmeForm(file) {
  const values = file.values.programme ?? {};
  const plain = (key, says, hint = null, control = textBox(values[key])) =>
    plainGroup(["programme", key], says, control, values[key], hint);
  return quiltForm({
    title: words.changeProgramme, what: words.programmeChanged, file, groups: [
      plain("start", words.programmeStart, words.programmeStartHint),
      plain("rhythm", words.programmeRhythm, words.programmeRhythmHint),
      plain("hour", words.programmeHour, words.programmeHourHint),
      plain("zone", words.programmeZone),
      plain("people", words.programmePeople),
      plain("spares", words.programmeSpares, words.programmeSparesHint),
      plain("kit level", words.kitLevel, null, choice(values["kit level"], words.kitLevels.filter(([key]) => Boolean(key) === Boolean(values["kit level"]) || key === "strips" || key === "yardage"))),
      releases(values.releases),
    ],
  });
}
