// The two rulers of the board. Every tick is a measure.

import { h, s, set } from "../element.js";

/** Ticks nearer than this, in pixels, would be grey; numerals need more room. */
const TICKS_APART = 5;
const NUMERALS_APART = 26;
const STEPS = { in: [1 / 8, 1 / 4, 1 / 2, 1, 2, 5, 10, 20, 50], cm: [0.1, 0.5, 1, 2, 5, 10, 20, 50] };
const HIGH = 24;

export class Rulers {
  /** `unit.name` is "in" or "cm". */
  constructor(unit) {
    this.steps = STEPS[unit.name];
    this.corner = h("span", { class: "ruler-corner", "aria-hidden": "true" });
    this.across = s("svg", { class: "ruler across", "aria-hidden": "true" });
    this.down = s("svg", { class: "ruler down", "aria-hidden": "true" });
    this.at = null;
  }

  /** `view` has x, y, k, wide and high, and the size of its drawing. */
  draw(view) {
    this.view = view;
    this.side(this.across, view.x, view.k, view.wide, view.drawing.width.v, true);
    this.side(this.down, view.y, view.k, view.high, view.drawing.height.v, false);
    this.mark(this.at);
  }

  side(svg, from, k, long, size, level) {
    const step = this.steps.find((some) => some * k >= TICKS_APART) ?? this.steps.at(-1);
    const numbered = this.steps.find((some) => some >= 1 && some * k >= NUMERALS_APART) ??
      this.steps.at(-1);
    const ticks = [];
    const numerals = [];
    const first = Math.max(0, Math.ceil(-from / k / step));
    const last = Math.min(Math.floor((long - from) / k / step + 1e-9), Math.round(size / step));
    for (let i = first; i <= last; i += 1) {
      const value = i * step;
      const p = Math.round((from + value * k) * 2) / 2;
      const whole = Math.abs(value / numbered - Math.round(value / numbered)) < 1e-6;
      const length = whole ? 9 : Math.abs(value - Math.round(value)) < 1e-6 ? 8 :
        Math.abs(value * 2 - Math.round(value * 2)) < 1e-6 ? 6 : 4;
      ticks.push(level ? `M${p} ${HIGH}v${-length}` : `M${HIGH} ${p}h${-length}`);
      if (whole) {
        const text = String(Math.round(value));
        const sits = level ? { x: p, y: 11, "text-anchor": "middle" } :
          { x: HIGH - 11, y: p + 4, "text-anchor": "end" };
        numerals.push(s("text", sits, text));
      }
    }
    svg.replaceChildren(s("path", { d: ticks.join("") }), ...numerals, s("path", { class: "here" }));
  }

  /** A triangle at a place of the block, or none. */
  mark(at) {
    this.at = at;
    if (!this.view) return;
    const here = (svg) => svg.querySelector(".here");
    if (!here(this.across)) return;
    const { x, y, k } = this.view;
    const [px, py] = at ? [x + at[0] * k, y + at[1] * k] : [0, 0];
    set(here(this.across), { d: at ? `M${px} ${HIGH}l-5 -7h10Z` : "" });
    set(here(this.down), { d: at ? `M${HIGH} ${py}l-7 -5v10Z` : "" });
  }
}
