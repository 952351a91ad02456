// A part of the block turned where it lies: the smallest square of seams round a place.

import { near } from "../exact.js";
import { exactly, faceAt, point, same, withFabrics, withSeams } from "./model.js";

/** Squares are looked for among this many places at most. */
const MOST = 1200;

/** The smallest square round a place whose sides are seams or edges of the block and that holds
 * two patches or more; null if there is none. */
export function squareRound(drawing, x, y) {
  const { vertices, edges } = drawing.plane;
  if (vertices.length > MOST) return null;
  const runs = sidesOf(vertices, edges);
  let best = null;
  for (const p of vertices) {
    if (p.x >= x || p.y >= y) continue;
    for (const q of vertices) {
      const side = q.x - p.x;
      if (q.x <= x || q.y <= y || Math.abs(q.y - p.y - side) > 1e-4) continue;
      if (best && side >= best.side - 1e-4) continue;
      const sides = [
        ["h", p.y, p.x, q.x], ["h", q.y, p.x, q.x], ["v", p.x, p.y, q.y], ["v", q.x, p.y, q.y],
      ];
      if (sides.every(([way, line, from, to]) => covered(runs, way, line, from, to)) &&
          patchesIn(drawing, p, q) > 1) best = { p, q, side };
    }
  }
  return best && { at: exactly(drawing, best.p), to: exactly(drawing, best.q), side: best.side };
}

/** Level and upright edges by their line, as stretches from and to. */
function sidesOf(vertices, edges) {
  const runs = new Map();
  for (const { u, v } of edges) {
    const [p, q] = [vertices[u], vertices[v]];
    const level = Math.abs(p.y - q.y) < 1e-4;
    if (!level && Math.abs(p.x - q.x) >= 1e-4) continue;
    const key = level ? `h${p.y.toFixed(3)}` : `v${p.x.toFixed(3)}`;
    const stretch = level ? [p.x, q.x] : [p.y, q.y];
    runs.set(key, [...(runs.get(key) ?? []), stretch.sort((a, b) => a - b)]);
  }
  for (const some of runs.values()) some.sort((a, b) => a[0] - b[0]);
  return runs;
}

function covered(runs, way, line, from, to) {
  let reached = from;
  for (const [a, b] of runs.get(`${way}${line.toFixed(3)}`) ?? []) {
    if (a > reached + 1e-3) return false;
    if (b > reached) reached = b;
    if (reached >= to - 1e-3) return true;
  }
  return false;
}

function patchesIn(drawing, p, q) {
  return drawing.plane.faces.filter(
    ({ at: [x, y] }) => x > p.x && x < q.x && y > p.y && y < q.y,
  ).length;
}

/** The drawing with that square turned a quarter clockwise. */
export function withTurned(drawing, { at, to }) {
  const inside = ({ x, y }) =>
    x.v > at.x.v - 1e-4 && x.v < to.x.v + 1e-4 && y.v > at.y.v - 1e-4 && y.v < to.y.v + 1e-4;
  const along = (a, b) =>
    [[a.x, b.x, at.x], [a.x, b.x, to.x], [a.y, b.y, at.y], [a.y, b.y, to.y]].some(
      ([p, q, line]) => Math.abs(p.v - line.v) < 1e-4 && Math.abs(q.v - line.v) < 1e-4,
    );
  const turned = ({ x, y }) => point(to.x.minus(y.minus(at.y)), at.y.plus(x.minus(at.x)));
  const { seams, next } = clipped(drawing, at, to);
  const moved = seams.map((seam) => {
    if (!inside(seam.a) || !inside(seam.b) || along(seam.a, seam.b)) return seam;
    return { ...seam, a: turned(seam.a), b: turned(seam.b) };
  });
  const changed = withSeams(drawing, moved, next);
  const letters = new Map();
  for (const face of drawing.plane.faces) {
    const here = { x: near(face.at[0]), y: near(face.at[1]) };
    if (!inside(here)) continue;
    const there = turned(here);
    const found = faceAt(changed, there.x.v, there.y.v);
    if (found) letters.set(found.key, face.fabric);
  }
  return withFabrics(changed, letters);
}

/** Seams that run on past the square are parted at its sides. */
function clipped(drawing, at, to) {
  let { next } = drawing;
  const seams = drawing.seams.flatMap((seam) => {
    const cuts = drawing.plane.vertices
      .filter((vertex) => vertex.seams.has(seam.id) && onRim(vertex, at, to))
      .map((vertex) => exactly(drawing, vertex))
      .filter((cut) => !same(cut, seam.a) && !same(cut, seam.b))
      .sort((p, q) => reach(seam.a, p) - reach(seam.a, q));
    const stops = [seam.a, ...cuts, seam.b];
    return stops.slice(1).map((stop, i) => {
      const id = i ? next++ : seam.id;
      return { id, a: stops[i], b: stop };
    });
  });
  return { seams, next };
}

function onRim({ x, y }, at, to) {
  const between = (value, low, high) => value > low - 1e-4 && value < high + 1e-4;
  const on = (value, line) => Math.abs(value - line) < 1e-4;
  return (
    ((on(x, at.x.v) || on(x, to.x.v)) && between(y, at.y.v, to.y.v)) ||
    ((on(y, at.y.v) || on(y, to.y.v)) && between(x, at.x.v, to.x.v))
  );
}

function reach(p, q) {
  return Math.hypot(p.x.v - q.x.v, p.y.v - q.y.v);
}
