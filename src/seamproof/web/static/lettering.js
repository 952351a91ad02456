// Text as the page sets it: sizes with built fractions, nothing that belongs together torn apart.

import { h, s } from "./element.js";

const FRACTION = /(?:(?<![\d/])(\d+)[ \u00a0])?(?<![\d/.])(\d{1,3})\/(\d{1,3})(?![\d/])/gu;

/** A text with its fractions built, as nodes. A reader that speaks gets the plain words. */
export function sized(text) {
  const glued = String(text)
    .replace(/ (?=×)|(?<=×) /gu, "\u00a0")
    .replace(/(?<=\d) (?=(?:in|cm|yd|mm)\b)/gu, "\u00a0");
  const nodes = [];
  let done = 0;
  for (const found of glued.matchAll(FRACTION)) {
    const [all, before, upper, lower] = found;
    nodes.push(glued.slice(done, found.index));
    const fraction = h("span", { class: "fraction" },
      h("span", { class: "upper" }, upper), "⁄", h("span", { class: "lower" }, lower));
    nodes.push(before
      ? h("span", { class: "whole" }, before, h("span", { class: "thin" }, "\u00a0"), fraction)
      : fraction);
    done = found.index + all.length;
  }
  nodes.push(glued.slice(done));
  return nodes.filter((node) => node !== "");
}

/** The same for a text in a picture: spans of one line. */
export function sizedSpans(text) {
  const spans = [];
  let done = 0;
  const put = (part) => part && spans.push(s("tspan", {}, part));
  for (const found of text.matchAll(FRACTION)) {
    const [all, before, upper, lower] = found;
    put(text.slice(done, found.index) + (before ? `${before}\u2009` : ""));
    spans.push(s("tspan", { "font-size": "74%", dy: "-0.42em" }, upper));
    spans.push(s("tspan", { dy: "0.31em", dx: "-0.12em" }, "⁄"));
    spans.push(s("tspan", { "font-size": "74%", dx: "-0.17em" }, lower));
    done = found.index + all.length;
  }
  put(text.slice(done));
  return spans;
}

/** A fabric's letter as it is printed. */
export function printed(letter) {
  return letter.toUpperCase();
}
