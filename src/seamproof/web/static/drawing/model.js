// A block as it is drawn: seams and the fabric of each patch. Edits give a new drawing; nothing is
// changed in place.

import { Exact, near, parsed, ZERO } from "../exact.js";
import { divided, holds } from "./planar.js";

/** A place with exact coordinates. */
export function point(x, y) {
  return { x, y };
}

/** What the server sent, ready to be drawn on. */
export function opened(sent) {
  const seams = sent.seams.map((seam, i) => ({
    id: i + 1,
    a: point(parsed(seam.from[0]), parsed(seam.from[1])),
    b: point(parsed(seam.to[0]), parsed(seam.to[1])),
  }));
  const width = parsed(sent.width);
  const height = parsed(sent.height);
  const drawing = { sent, width, height, seams, next: seams.length + 1 };
  drawing.plane = divided(width.v, height.v, seams);
  const named = sent.patches.map(({ at, fabric }) => ({
    at, fabric, x: parsed(at[0]).v, y: parsed(at[1]).v,
  }));
  const known = mostUsed(named.map(({ fabric }) => fabric)) ?? "a";
  for (const face of drawing.plane.faces) {
    const found = named.find(({ x, y }) => holds(face, x, y));
    face.fabric = found?.fabric ?? known;
    face.typed = found?.at ?? null;
  }
  return drawing;
}

/** The drawing as the server takes it. */
export function told(drawing) {
  const texts = ({ x, y }) => [x.text, y.text];
  return {
    ...drawing.sent,
    width: drawing.width.text,
    height: drawing.height.text,
    seams: drawing.seams.map(({ id, a, b }) => ({ id, from: texts(a), to: texts(b) })),
    patches: drawing.plane.faces.map((face) => ({
      at: face.typed ?? spot(face),
      fabric: face.fabric,
    })),
  };
}

/** A place well inside a patch, in few figures. */
function spot(face) {
  const [x, y] = face.at;
  for (const step of [2, 4, 8, 16]) {
    const [sx, sy] = [Math.round(x * step) / step, Math.round(y * step) / step];
    if (Math.hypot(sx - x, sy - y) < face.room * 0.6) {
      const text = (value) => new Exact(BigInt(value * step), BigInt(step)).text;
      return [text(sx), text(sy)];
    }
  }
  return [near(x).text, near(y).text];
}

/** The same block with other seams: a patch keeps the fabric that lies at its middle. */
export function withSeams(drawing, seams, next = drawing.next) {
  const plane = divided(drawing.width.v, drawing.height.v, seams);
  const before = new Map(drawing.plane.faces.map((face) => [face.key, face]));
  for (const face of plane.faces) {
    const same = before.get(face.key);
    const old = same ?? faceAt(drawing, ...face.at) ?? drawing.plane.faces[0];
    face.fabric = old.fabric;
    face.typed = same ? same.typed : null;
  }
  return { ...drawing, seams, next, plane };
}

/** The same block with other fabrics: `letters` by the key of a patch. */
export function withFabrics(drawing, letters) {
  const faces = drawing.plane.faces.map((face) =>
    letters.has(face.key) ? { ...face, fabric: letters.get(face.key) } : face,
  );
  return { ...drawing, plane: { ...drawing.plane, faces } };
}

/** Draws seams between pairs of places; what is there already is not drawn twice. */
export function withDrawn(drawing, pairs) {
  const seams = [...drawing.seams];
  let { next } = drawing;
  for (const [a, b] of pairs) {
    if (same(a, b) || seams.some((s) => covers(s, a, b)) || onEdge(drawing, a, b)) continue;
    seams.push({ id: next, a, b });
    next += 1;
  }
  return seams.length === drawing.seams.length ? drawing : withSeams(drawing, seams, next);
}

/** Takes seams away, by id. */
export function without(drawing, ids) {
  return withSeams(drawing, drawing.seams.filter(({ id }) => !ids.has(id)));
}

/** Takes away only the part of a seam between the meetings on both sides of a place. */
export function withoutPart(drawing, seam, x, y) {
  const [dx, dy] = [seam.b.x.v - seam.a.x.v, seam.b.y.v - seam.a.y.v];
  const along = (px, py) => ((px - seam.a.x.v) * dx + (py - seam.a.y.v) * dy) / (dx * dx + dy * dy);
  const here = along(x, y);
  const meetings = drawing.plane.vertices
    .filter((vertex) => vertex.seams.has(seam.id))
    .map((vertex) => ({ vertex, t: along(vertex.x, vertex.y) }))
    .sort((p, q) => p.t - q.t);
  const before = meetings.findLast(({ t }) => t <= here) ?? meetings[0];
  const after = meetings.find(({ t }) => t > here) ?? meetings.at(-1);
  const ends = [[seam.a, exactly(drawing, before.vertex)], [exactly(drawing, after.vertex), seam.b]];
  const seams = drawing.seams.filter(({ id }) => id !== seam.id);
  let { next } = drawing;
  for (const [a, b] of ends) {
    if (same(a, b)) continue;
    seams.push({ id: next, a, b });
    next += 1;
  }
  return withSeams(drawing, seams, next);
}

/** Moves the ends that lie at one place, of all seams or of those named. */
export function withMoved(drawing, moves, ids = null) {
  const seams = drawing.seams.map((seam) => {
    if (ids && !ids.has(seam.id)) return seam;
    const to = (end) => moves.find(([from]) => same(from, end))?.[1] ?? end;
    const [a, b] = [to(seam.a), to(seam.b)];
    return a === seam.a && b === seam.b ? seam : { ...seam, a, b };
  });
  return withSeams(drawing, seams.filter(({ a, b }) => !same(a, b)));
}

/** The patch that holds a place, the smallest if they lie in one another. */
export function faceAt(drawing, x, y) {
  return drawing.plane.faces.findLast((face) => holds(face, x, y));
}

/** Whether two places are one. */
export function same(p, q) {
  return Math.abs(p.x.v - q.x.v) < 1e-4 && Math.abs(p.y.v - q.y.v) < 1e-4;
}

/** Whether a seam runs all the way from a to b. */
function covers(seam, a, b) {
  return onSeam(seam, a) && onSeam(seam, b);
}

/** Whether a place lies on a seam. */
export function onSeam(seam, { x, y }) {
  const dx = seam.b.x.v - seam.a.x.v;
  const dy = seam.b.y.v - seam.a.y.v;
  const long = Math.hypot(dx, dy);
  const off = ((x.v - seam.a.x.v) * dy - (y.v - seam.a.y.v) * dx) / long;
  const along = ((x.v - seam.a.x.v) * dx + (y.v - seam.a.y.v) * dy) / long;
  return Math.abs(off) < 1e-4 && along > -1e-4 && along < long + 1e-4;
}

function onEdge({ width, height }, a, b) {
  const level = (p, q, line) => Math.abs(p.v - line.v) < 1e-4 && Math.abs(q.v - line.v) < 1e-4;
  return (
    level(a.x, b.x, ZERO) || level(a.x, b.x, width) ||
    level(a.y, b.y, ZERO) || level(a.y, b.y, height)
  );
}

/** Where two seams cross, exactly; null if they run alongside. */
export function crossing(p, q) {
  const [dx, dy] = [p.b.x.minus(p.a.x), p.b.y.minus(p.a.y)];
  const [ex, ey] = [q.b.x.minus(q.a.x), q.b.y.minus(q.a.y)];
  const turn = dx.times(ey).minus(dy.times(ex));
  if (turn.n === 0n) return null;
  const t = q.a.x.minus(p.a.x).times(ey).minus(q.a.y.minus(p.a.y).times(ex)).over(turn);
  return point(p.a.x.plus(dx.times(t)), p.a.y.plus(dy.times(t)));
}

/** A place of the plane, exactly if ends or seams say where it is. */
export function exactly(drawing, vertex) {
  if (vertex.ends.length) {
    const { end } = vertex.ends[0];
    return point(end.x, end.y);
  }
  if (vertex.corner) {
    return point(vertex.x < 1e-4 ? ZERO : drawing.width, vertex.y < 1e-4 ? ZERO : drawing.height);
  }
  const through = drawing.seams.filter(({ id }) => vertex.seams.has(id));
  for (let i = 1; i < through.length; i += 1) {
    const found = crossing(through[0], through[i]);
    if (found) return point(grounded(found.x), grounded(found.y));
  }
  return point(near(vertex.x), near(vertex.y));
}

/** As a file can say it. */
function grounded(value) {
  return value.d <= 121920n ? value : near(value.v);
}

function mostUsed(letters) {
  const counts = new Map();
  for (const letter of letters) counts.set(letter, (counts.get(letter) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
}
