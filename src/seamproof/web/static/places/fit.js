// Fit: how the block may turn out in real hands.

import { h, fill, picture } from "../element.js";
import { sized } from "../lettering.js";
import { button, factList } from "../shell.js";
import { known } from "../state.js";
import { words } from "../words.js";
import { panel } from "./block.js";
import { capital, noteList } from "./notes.js";

const MANY = 10000;

export function fit(body, hand) {
  let maker = "everyday";
  let makers = 0;
  let watch = null;
  const board = h("div", { class: "picture-board" });
  const facts = h("div");
  const advice = h("div");
  const costs = h("dl", { class: "costs" });
  const acts = h("p", { class: "acts" });
  const notes = noteList();
  const choice = h("label", { class: "field" }, h("span", {}, words.fitHands),
    h("select", { onchange: (event) => {
      maker = event.target.value;
      look();
    } }, (known.project.makers ?? Object.keys(words.makers)).map((name) =>
      h("option", { value: name, selected: name === maker }, words.makers[name] ?? name))));
  fill(body,
    h("div", { class: "middle" }, h("h2", {}, words.fitTitle), h("p", { class: "count" }, words.fitHint),
      choice, board, acts, h("section", {}, h("h2", {}, words.fitCosts), costs), advice),
    h("div", { class: "right" },
      h("section", {}, h("h2", {}, words.fitNumbers), facts),
      h("section", {}, h("h2", {}, words.notes), notes.element)));

  function draw(told) {
    fill(facts, told.facts?.length ? factList(told.facts) : h("p", {}, told.missing ?? words.fitMissing));
    notes.show(told.findings ?? [], null);
    fill(board, told.svg ? picture(told.svg, words.fitTitle) : h("p", { class: "empty" }, words.fitAtOnce));
    fill(costs, (told.costs ?? []).map((row) => cost(...(Array.isArray(row) ? row : [row.source, row.share]))));
    fill(advice, (told.advice ?? []).length ? [h("h2", {}, words.fitAdvice),
      h("ul", { class: "advice" }, told.advice.map(({ say }) => h("li", {}, sized(capital(say)), ".")))] : null);
    fill(acts, told.rehearsed ? null : button(words.rehearse(MANY), () => {
      makers = MANY;
      look();
    }, { class: "button main" }));
  }

  /** What one source has of the whole error, as a bar with its figure. */
  function cost(source, share) {
    const bar = h("div", { class: "bar" });
    bar.style.width = `${100 * share}%`;
    return h("div", {}, h("dt", {}, capital(source)), h("dd", {}, bar), h("dd", { class: "share" }, words.ofHundred(share)));
  }

  function look() {
    watch?.stop();
    watch = panel(hand, "fit", draw, {
      query: `?maker=${maker}&makers=${makers}`,
      over: board,
    });
  }
  look();
  return () => watch.stop();
}
