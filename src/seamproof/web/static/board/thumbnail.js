// A drawing small, as a picture: for two versions side by side.

import { s } from "../element.js";
import { opened } from "../drawing/model.js";
import { hatch } from "../hatches.js";

const SIDE = 240;
let drawn = 0;

/** A drawing as the program tells it, in the colours of these fabrics. */
export function thumbnail(sent, fabrics, label) {
  const { width, height, plane } = opened(sent);
  const k = SIDE / Math.max(width.v, height.v);
  const own = `t${(drawn += 1)}`;
  const used = fabrics.filter(({ letter }) => plane.faces.some(({ fabric }) => fabric === letter));
  const path = ({ rings }) =>
    rings.map((ring) => `M${ring.map(([x, y]) => `${x * k} ${y * k}`).join("L")}Z`).join("");
  const colour = (letter) => fabrics.find((one) => one.letter === letter)?.colour ?? "#D8D6D0";
  return s("svg", {
    viewBox: `-2 -2 ${width.v * k + 4} ${height.v * k + 4}`, role: "img", "aria-label": label,
  },
  used.map((one) => hatch(one.letter, one.colour, `${own}-${one.letter}`)),
  plane.faces.flatMap((face) => [colour(face.fabric), `url(#${own}-${face.fabric})`].map((fill) =>
    s("path", { d: path(face), fill, "fill-rule": "evenodd", stroke: "#171C1E" }))));
}
