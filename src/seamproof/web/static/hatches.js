// The hatches that tell fabrics apart in grey, as patterns: fixed on the screen, they neither grow
// with the zoom nor turn with the patch. The same twelve as in print.

import { s } from "./element.js";

const PITCH = 10;
const CLOSER = 0.6;
const ORDER = "ABCDEFGHJKLMNPRSTUVWXYIOQZ";

/** Angle, width and height of a tile, in pitches, and what is drawn in it. */
const KINDS = [
  [22.5, 1, 0.8, ["M0 .4H1"]],
  [22.5, 1, 1.5, [], [[0.5, 0.375], [0, 1.125], [1, 1.125]]],
  [112.5, 1, 1.15, ["M0 .3H1M0 .6H1"]],
  [22.5, 1.1, 2, ["M.34 .5H.76M.55 .29V.71M-.21 1.5H.21M0 1.29V1.71M.89 1.5H1.31M1.1 1.29V1.71"]],
  [67.5, 1.3, 1.2, ["M0 .3H.8M.65 .9H1.3M0 .9H.15"]],
  [22.5, 1.2, 1.9, [], [], [[0.6, 0.475], [0, 1.425], [1.2, 1.425]]],
  [157.5, 0.8, 1.1, ["M0 .3H.8"], [[0.4, 0.85]]],
  [22.5, 0.95, 0.95, ["M0 .475H.95M.475 0V.95"]],
  [157.5, 1.35, 1.7, [
    "M.315 .6L.675 .3L1.035 .6M-.36 1.45L0 1.15L.36 1.45M.99 1.45L1.35 1.15L1.71 1.45",
  ]],
  [22.5, 1.5, 2.1, [], [
    [0.4, 0.4], [0.74, 0.4], [0.57, 0.7], [1.15, 1.45], [1.49, 1.45], [-0.01, 1.45], [1.32, 1.75],
  ]],
  [157.5, 1.2, 0.7, ["M0 .35Q.15 .11 .3 .35T.6 .35T.9 .35T1.2 .35"]],
  [112.5, 1.3, 1.3, ["M0 .01H1.3M0 .66H1.3M.32 .01V.66M.97 .66V1.3"]],
];

const DOT = 0.1;
const RING = 0.24;
const LIGHT_CLOTH = 0.3;

/** The id of the pattern for a fabric, and the pattern itself. */
export function hatch(letter, colour, id) {
  const number = ORDER.indexOf(letter.toUpperCase()[0]);
  const [angle, width, height, lines, dots = [], rings = []] = KINDS[Math.max(number, 0) % 12];
  const pitch = PITCH * (number >= 12 ? CLOSER : 1);
  const [ink, opacity] = luminance(colour) >= LIGHT_CLOTH ? ["#171C1E", 0.42] : ["#FFFFFF", 0.5];
  const thin = 0.9 / pitch;
  return s("pattern", {
    id, width, height, patternUnits: "userSpaceOnUse",
    patternTransform: `rotate(${angle}) scale(${pitch})`,
  },
  s("g", { fill: "none", stroke: ink, "stroke-opacity": opacity, "stroke-width": thin },
    lines.map((d) => s("path", { d })),
    rings.map(([cx, cy]) => s("circle", { cx, cy, r: RING })),
    dots.map(([cx, cy]) => s("circle", { cx, cy, r: DOT, fill: ink, "fill-opacity": opacity, stroke: "none" })),
  ));
}

/** Relative luminance of #RRGGBB, 0 black to 1 white (WCAG 2.2). */
export function luminance(colour) {
  const part = (at) => {
    const share = parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
}

/** A small square of a fabric with its hatch, for lists. */
export function swatch(fabric, side = 28) {
  const id = `swatch-${fabric.letter}-${(swatches += 1)}`;
  return s("svg", { class: "swatch", width: side, height: side, viewBox: `0 0 ${side} ${side}`, "aria-hidden": "true" },
    hatch(fabric.letter, fabric.colour, id),
    s("rect", { x: 0.5, y: 0.5, width: side - 1, height: side - 1, fill: fabric.colour }),
    s("rect", { x: 0.5, y: 0.5, width: side - 1, height: side - 1, fill: `url(#${id})`, stroke: "#171C1E" }),
  );
}

let swatches = 0;
