// Bulk: how many layers of cloth lie where, and the thick spots, listed and linked.

import { h, s, set, fill, picture } from "../element.js";
import { decimals } from "../exact.js";
import { sized } from "../lettering.js";
import { factList, placeAddress } from "../shell.js";
import { known } from "../state.js";
import { words } from "../words.js";
import { panel } from "./block.js";
import { noteList, seamsPlace } from "./notes.js";

/** Pixels of board kept on either side of the cut between the two maps. */
const BETWEEN = 16;

export function bulk(body, hand) {
  const board = h("div", { class: "picture-board" });
  const big = h("p", { class: "big" });
  const facts = h("div");
  const spots = h("div");
  const notes = noteList({ go: (_note, at) => {
    location.hash = placeAddress({ place: "block", block: hand.name, inside: "back", note: seamsPlace(at) });
  }, says: words.showSeams });
  fill(body,
    h("div", { class: "middle" }, h("h2", {}, words.bulkTitle), big, board),
    h("div", { class: "right" },
      h("section", {}, h("h2", {}, words.facts), facts),
      h("section", {}, h("h2", {}, words.thickSpots), spots),
      h("section", {}, h("h2", {}, words.notes), notes.element)));

  function draw(told) {
    fill(facts, factList(told.facts));
    notes.show(told.findings ?? [], null);
    fill(big, told.max_layers == null ? null
      : [h("b", {}, String(told.max_layers)), " ", words.bulkWorst]);
    if (!told.svg) {
      fill(board, h("p", { class: "empty" }, told.missing ?? words.notesLater));
      fill(spots);
      return;
    }
    // The worst place and the whole block are one picture; where there is no room side by side,
    // one stands below the other.
    const { x, width, height } = told.frame;
    const cut = x - BETWEEN;
    const views = [[0, cut - BETWEEN], [cut, width]].map(([from, to], i) => {
      const view = picture(told.svg, i ? words.bulkWhole : words.bulkTitle);
      set(view, { viewBox: `${from} 0 ${to - from} ${height}`, width: to - from, height });
      return view;
    });
    const ring = s("svg", { class: "hits", viewBox: views[1].getAttribute("viewBox"), "aria-hidden": "true" });
    fill(board, h("div", { class: "split" }, h("div", {}, views[0]), h("div", {}, views[1], ring)));
    drawSpots(told, ring);
  }

  function drawSpots(told, ring) {
    const { unit } = known.project;
    const share = unit === "cm" ? 2.54 : 1;
    const text = (value) => decimals(Math.round(value * share * 16) / 16, 3);
    const mark = (spot) => {
      const { x, y, scale } = told.frame;
      const [cx, cy] = [x + spot.x * scale, y + spot.y * scale];
      fill(ring, s("circle", { class: "casing ring", cx, cy, r: 12 }), s("circle", { class: "ring", cx, cy, r: 12 }));
    };
    const toBack = ({ x, y }) => placeAddress({
      place: "block", block: hand.name, inside: "back", note: seamsPlace([x, y]) });
    fill(spots, told.spots?.length
      ? h("ul", { class: "seam-list" }, told.spots.map((spot) => h("li", { class: "spot" },
        h("button", { type: "button", class: "row", onclick: (event) => {
          spots.querySelectorAll("[aria-pressed=true]").forEach((b) => b.setAttribute("aria-pressed", "false"));
          event.currentTarget.setAttribute("aria-pressed", "true");
          mark(spot);
        }, "aria-pressed": "false" },
        sized(words.spot(spot.layers, text(spot.x), text(spot.y), unit)), h("span", { class: "count" },
          sized(words.spotArea(decimals(spot.area, 2))))),
        h("a", { class: "word", href: toBack(spot), "aria-label": words.seamsOfSpot(text(spot.x), text(spot.y), unit) },
          words.showSeams))))
      : h("p", {}, words.noThick(told.limit)));
  }

  const watch = panel(hand, "bulk", draw, {
    query: `?plan=${hand.plan ?? "best"}`, over: board });
  return () => watch.stop();
}
