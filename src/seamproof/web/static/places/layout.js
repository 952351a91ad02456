// The layout of the top: which block lies where and how it is turned, by click and by keys.

import { h, fill, set } from "../element.js";
import { swatch } from "../hatches.js";
import { printed } from "../lettering.js";
import { button, wordButton } from "../shell.js";
import { known, on, say } from "../state.js";
import { words } from "../words.js";
import { head as pinHead } from "./notes.js";

const PLAIN = /^plain +([a-z]{1,2})$/u;
const ARROWS = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] };
/** Columns that are tried first when blocks are set together for the first time. */
const nearlySquare = (count) => Math.max(1, Math.round(Math.sqrt(count)));

/** What a place of the layout says: a block's title and its quarter turns, or plain cloth. */
export function cellOf(text) {
  const plain = PLAIN.exec(text);
  if (plain) return { plain: plain[1], title: "", quarters: 0 };
  const title = text.replace(/'+$/u, "");
  return { plain: null, title, quarters: text.length - title.length };
}

function cellText({ plain, title, quarters }) {
  return plain ? `plain ${plain}` : title + "'".repeat(quarters % 4);
}

/** The layout in an element; `save(what, changes)` writes the quilt file. */
export function layout(save) {
  const element = h("section", { class: "layout-place" });
  let rows = [];
  let notes = [];
  let at = null;
  let lifted = null;

  const blockOf = (title) => known.project.blocks.find((one) => one.title === title);
  const cell = (r, c) => element.querySelector(`[data-cell="${r} ${c}"]`);
  const path = (...more) => ["setting", "rows", ...more.map(String)];

  function show(values, findings) {
    rows = (values?.setting?.rows ?? []).map((row) => (Array.isArray(row) ? row : [row]));
    notes = findings;
    if (at && !(at[1] < (rows[at[0]]?.length ?? 0))) at = null;
    const held = element.contains(document.activeElement) ? document.activeElement : null;
    // Who went to another place by the arrow keys and has not picked it yet stays there.
    const there = held?.dataset.cell?.split(" ") ?? at;
    draw();
    if (held && there && document.activeElement === document.body) cell(...there)?.focus();
  }

  function draw() {
    if (!rows.length) {
      const { blocks } = known.project;
      fill(element, h("h2", {}, words.layout), h("p", {}, words.noLayout),
        blocks.length ? button(words.setTogether, begin, { class: "button main" }) : null);
      return;
    }
    fill(element, h("h2", {}, words.layout), h("div", { class: "layout-desk" },
      h("div", { class: "layout-scroll" }, h("table", { class: "layout", "aria-label": words.layout },
        h("tbody", {}, rows.map((row, r) => h("tr", {},
          row.map((text, c) => h("td", {}, place(text, r, c))),
          h("td", { class: "row-notes" }, pinsAt(r, null))))))),
      h("div", { class: "layout-acts" }, acts())));
  }

  function pinsAt(r, c) {
    return notes
      .map((note, i) => [note, i + 1])
      .filter(([note]) => (note.paths ?? []).some((one) => one[1] === "rows" && one[2] === String(r) &&
        (c == null ? one.length === 3 : one[3] === String(c))))
      .map(([note, number]) => pinHead(number, note.severity));
  }

  function place(text, r, c) {
    const { plain, title, quarters } = cellOf(text);
    const fabric = known.project.fabrics.find(({ letter }) => letter === plain);
    const one = blockOf(title);
    const here = at?.[0] === r && at?.[1] === c;
    const first = !at && r === 0 && c === 0;
    const shown = one ? h("img", { src: one.picture, alt: "", class: `turn-${quarters}`, draggable: "false",
      onload: ({ target }) => target.classList.add("drawn") })
      : fabric ? swatch(fabric, 64) : h("span", { class: "unknown" }, title || printed(plain));
    return h("button", {
      type: "button", class: "cell", "data-cell": `${r} ${c}`, tabindex: here || first ? 0 : -1,
      "aria-pressed": String(here), "aria-label": words.cellName(r + 1, c + 1, nameOf(text)),
      onclick: () => pick(r, c), onkeydown: (event) => key(event, r, c),
    }, one ? h("span", { class: "unknown waiting" }, title) : null, shown, pinsAt(r, c));
  }

  function nameOf(text) {
    const { plain, title, quarters } = cellOf(text);
    return plain ? words.plainOf(printed(plain)) : words.turnedBlock(title, quarters);
  }

  function choices(text) {
    const mine = cellOf(text);
    const options = [
      ...known.project.blocks.map(({ title }) => [title, title]),
      ...known.project.fabrics.map(({ letter, name }) => [`plain ${letter}`, words.plainOf(`${printed(letter)}, ${name}`)]),
    ];
    const value = mine.plain ? `plain ${mine.plain}` : mine.title;
    if (!options.some(([key]) => key === value)) options.unshift([value, value]);
    return h("select", { id: "cell-block", onchange: (event) => {
      const next = event.target.value;
      put(PLAIN.test(next) ? next : cellText({ title: next, quarters: mine.quarters }), words.blockSet);
    } }, options.map(([key, says]) => h("option", { value: key, selected: key === value }, says)));
  }

  function acts() {
    if (!at) return h("p", { class: "count" }, words.layoutHint);
    const [r, c] = at;
    const text = rows[r][c];
    const wide = Math.max(...rows.map((row) => row.length));
    return [
      h("label", { class: "field" }, h("span", {}, words.cellIn(r + 1, c + 1)), choices(text)),
      h("p", { class: "acts" },
        button(words.turnBlockKey, turn, { disabled: Boolean(cellOf(text).plain) }),
        button(lifted ? words.exchanging : words.exchange, exchange, { "aria-pressed": String(Boolean(lifted)) })),
      h("p", { class: "acts" },
        wordButton(words.addRow, () => structure(words.rowAdded, withRow(r))),
        wordButton(words.addColumn, () => structure(words.columnAdded, rows.map((row) => inserted(row, c)))),
        rows.length > 1 ? wordButton(words.removeRow, () => structure(words.rowTaken, rows.filter((_, i) => i !== r))) : null,
        wide > 1 ? wordButton(words.removeColumn, () => structure(words.columnTaken, rows.map((row) => row.filter((_, i) => i !== c)))) : null),
    ];
  }

  const inserted = (row, c) => [...row.slice(0, c + 1), row[c] ?? row.at(-1), ...row.slice(c + 1)];
  const withRow = (r) => [...rows.slice(0, r + 1), [...rows[r]], ...rows.slice(r + 1)];

  function pick(r, c) {
    const before = at;
    at = [r, c];
    if (lifted && before && (before[0] !== r || before[1] !== c)) {
      const [from, to] = [rows[before[0]][before[1]], rows[r][c]];
      lifted = null;
      rows[before[0]][before[1]] = to;
      rows[r][c] = from;
      save(words.blocksExchanged, [
        { path: path(...before), value: to }, { path: path(r, c), value: from },
      ]);
      say(words.blocksExchanged);
    } else {
      lifted = null;
      say(words.cellName(r + 1, c + 1, nameOf(rows[r][c])));
    }
    draw();
    cell(r, c)?.focus();
  }

  function key(event, r, c) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key in ARROWS) {
      const [dr, dc] = ARROWS[event.key];
      const next = cell(r + dr, c + dc);
      if (next) {
        element.querySelectorAll(".cell[tabindex='0']").forEach((one) => set(one, { tabindex: -1 }));
        set(next, { tabindex: 0 });
        next.focus();
      }
    } else if (event.key.toLowerCase() === "t") {
      at = [r, c];
      turn();
    } else if (event.key === "Escape") {
      lifted = null;
      at = null;
      draw();
      cell(r, c)?.focus();
    } else return;
    event.preventDefault();
  }

  function put(text, what) {
    const [r, c] = at;
    rows[r][c] = text;
    draw();
    (document.activeElement === document.body ? element.querySelector("#cell-block") : null)?.focus();
    say(words.cellName(r + 1, c + 1, nameOf(text)));
    save(what, [{ path: path(r, c), value: text }]);
  }

  function turn() {
    const [r, c] = at;
    const mine = cellOf(rows[r][c]);
    if (mine.plain) return;
    const byKey = element.querySelector(".cell:focus");
    put(cellText({ ...mine, quarters: mine.quarters + 1 }), words.blockTurned);
    (byKey ? cell(r, c) : element.querySelector(".layout-acts .button"))?.focus();
  }

  function exchange() {
    lifted = lifted ? null : at;
    draw();
    element.querySelector(".layout-acts [aria-pressed]")?.focus();
    if (lifted) say(words.exchangeHow);
  }

  function structure(what, next) {
    rows = next;
    at = [Math.min(at[0], rows.length - 1), 0].map((v, i) => (i ? Math.min(at[1], rows[0].length - 1) : v));
    draw();
    cell(...at)?.focus();
    say(what);
    save(what, [{ path: path(), value: rows }]);
  }

  function begin() {
    const titles = known.project.blocks.map(({ title }) => title);
    const wide = nearlySquare(titles.length);
    const high = Math.ceil(titles.length / wide);
    const made = Array.from({ length: high }, (_, r) =>
      Array.from({ length: wide }, (_, c) => titles[(r * wide + c) % titles.length]));
    save(words.blocksSetTogether, [{ path: path(), value: made }]);
  }

  const stop = on("panel", ({ panel, block }) => {
    if (panel !== "picture") return;
    const one = known.project.blocks.find(({ name }) => name === block);
    for (const image of element.querySelectorAll("img")) {
      if (image.getAttribute("src") === one?.picture) image.src = `${one.picture}&again`;
    }
  });
  return {
    element,
    show,
    stop,
    /** Leads to the place of a note. */
    go([, , r, c]) {
      if (r === undefined) {
        element.scrollIntoView({ block: "nearest" });
        return;
      }
      at = [Number(r), Number(c ?? 0)];
      draw();
      cell(...at)?.focus();
    },
  };
}
