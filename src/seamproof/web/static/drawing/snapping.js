// What a place near the pointer is caught by: ends, crossings, middles, seams, the grid, angles.

import { near, onStep } from "../exact.js";
import { exactly, point } from "./model.js";
import { toLine } from "./planar.js";

const HALF = near(0.5);

/** Angles from a seam's start that a direction is caught by, in degrees. */
const ANGLES = 15;

/**
 * The exact place for a pointer at (x, y), within `reach` inches.
 *
 * `on` says which kinds catch: {grid, ends, middles, crossings, angles}; `step` is the grid's, an
 * exact length. With `start` directions from there are caught too. Given back is
 * {at, kind, seams}: the exact place, what it was caught by (null: nothing), how many seams meet.
 */
export function snapped(drawing, x, y, { on, step, reach, start = null }) {
  const meeting = nearestVertex(drawing, x, y, on, reach);
  if (meeting) return meeting;
  const middle = on.middles && nearestMiddle(drawing, x, y, reach);
  if (middle) return middle;
  const ray = on.angles && start ? direction(start, x, y, reach) : null;
  if (ray) {
    const found = alongRay(drawing, start, ray, x, y, { on, step, reach });
    if (found) return found;
  }
  const grid = on.grid ? caught(point(onStep(x, step), onStep(y, step)), "grid") : null;
  if (grid && Math.hypot(grid.at.x.v - x, grid.at.y.v - y) <= reach) return grid;
  const seam = on.ends && nearestOnSeam(drawing, x, y, reach, on.grid ? step : null);
  if (seam) return seam;
  if (grid) return grid;
  if (ray) return caught(point(near(ray.x), near(ray.y)), "angle", ray.angle);
  return caught(point(near(x), near(y)), null);
}

function caught(at, kind, angle = null, seams = 0) {
  return { at, kind, angle, seams };
}

function nearestVertex(drawing, x, y, on, reach) {
  let best = null;
  let least = reach;
  for (const vertex of drawing.plane.vertices) {
    const kind = kindOf(vertex);
    if (!(kind === "crossing" ? on.crossings : on.ends)) continue;
    const off = Math.hypot(vertex.x - x, vertex.y - y);
    if (off < least) [best, least] = [{ vertex, kind }, off];
  }
  if (!best) return null;
  return caught(exactly(drawing, best.vertex), best.kind, null, best.vertex.seams.size);
}

/** What is at a place where lines meet. */
export function kindOf(vertex) {
  if (vertex.corner) return "corner";
  return vertex.seams.size > 1 ? "crossing" : "end";
}

function nearestMiddle(drawing, x, y, reach) {
  const { vertices, edges } = drawing.plane;
  let best = null;
  let least = reach;
  for (const { u, v } of edges) {
    const [p, q] = [vertices[u], vertices[v]];
    const off = Math.hypot((p.x + q.x) / 2 - x, (p.y + q.y) / 2 - y);
    if (off < least) [best, least] = [[p, q], off];
  }
  if (!best) return null;
  const [p, q] = best.map((vertex) => exactly(drawing, vertex));
  const middle = (a, b) => a.plus(b).times(HALF);
  return caught(point(middle(p.x, q.x), middle(p.y, q.y)), "middle");
}

/** The direction from a start that the pointer is nearly in. */
function direction(start, x, y, reach) {
  const [dx, dy] = [x - start.x.v, y - start.y.v];
  const long = Math.hypot(dx, dy);
  if (long < reach) return null;
  const angle = Math.round((Math.atan2(-dy, dx) * 180) / Math.PI / ANGLES) * ANGLES;
  const [ux, uy] = unit(angle);
  const along = dx * ux + dy * uy;
  const foot = { x: start.x.v + along * ux, y: start.y.v + along * uy };
  if (Math.hypot(foot.x - x, foot.y - y) > reach) return null;
  return { ...foot, ux, uy, angle: ((angle % 360) + 360) % 360, along };
}

/** A direction, counted anticlockwise from pointing right, as one sees it. */
export function unit(angle) {
  const exact = { 0: [1, 0], 90: [0, -1], 180: [-1, 0], 270: [0, 1] }[((angle % 360) + 360) % 360];
  return exact ?? [Math.cos((angle * Math.PI) / 180), -Math.sin((angle * Math.PI) / 180)];
}

/** A place on a direction: where it meets a seam or an edge, else where it meets the grid. */
function alongRay(drawing, start, ray, x, y, { on, step, reach }) {
  const { vertices, edges } = drawing.plane;
  let best = null;
  let least = reach;
  if (on.crossings) {
    const far = { x: start.x.v + ray.ux * 1e3, y: start.y.v + ray.uy * 1e3 };
    for (const { u, v } of edges) {
      const hit = meeting(start.x.v, start.y.v, far.x, far.y, vertices[u], vertices[v]);
      const off = hit ? Math.hypot(hit[0] - x, hit[1] - y) : Infinity;
      if (off < least) [best, least] = [hit, off];
    }
  }
  if (best) return caught(onGrid(best, step), "angle", ray.angle, 1);
  if (!on.grid) return null;
  const level = Math.abs(ray.ux) >= Math.abs(ray.uy);
  const way = level ? ray.ux : ray.uy;
  const from = level ? start.x.v : start.y.v;
  const to = onStep(level ? ray.x : ray.y, step).v;
  const long = (to - from) / way;
  const place = [start.x.v + long * ray.ux, start.y.v + long * ray.uy];
  if (Math.hypot(place[0] - x, place[1] - y) > reach * 1.5) return null;
  return caught(onGrid(place, step), "angle", ray.angle);
}

function meeting(ax, ay, bx, by, p, q) {
  const [dx, dy, ex, ey] = [bx - ax, by - ay, q.x - p.x, q.y - p.y];
  const turn = dx * ey - dy * ex;
  if (Math.abs(turn) < 1e-9) return null;
  const t = ((p.x - ax) * ey - (p.y - ay) * ex) / turn;
  const u = ((p.x - ax) * dy - (p.y - ay) * dx) / turn;
  return t > 0 && u >= -1e-6 && u <= 1 + 1e-6 ? [ax + t * dx, ay + t * dy] : null;
}

/** A computed place, put exactly on the grid, or on a fine ruler, if it lies there. */
export function onGrid([x, y], step) {
  const exact = (value) => {
    const sixtyFourth = near(0.015625);
    for (const some of step ? [step, sixtyFourth] : [sixtyFourth]) {
      const found = onStep(value, some);
      if (Math.abs(found.v - value) < 1e-6) return found;
    }
    return near(value);
  };
  return point(exact(x), exact(y));
}

/** The nearest place on a seam: where it meets a grid line if that is near, else anywhere. */
function nearestOnSeam(drawing, x, y, reach, step) {
  const { vertices, edges } = drawing.plane;
  let best = null;
  let least = reach;
  for (const { u, v } of edges) {
    const [p, q] = [vertices[u], vertices[v]];
    const { off, t } = toLine(p.x, p.y, q.x, q.y, x, y);
    if (off < least) [best, least] = [[p.x + t * (q.x - p.x), p.y + t * (q.y - p.y), p, q], off];
  }
  if (!best) return null;
  const [bx, by, p, q] = best;
  if (step) {
    const gx = onStep(bx, step).v;
    const gy = onStep(by, step).v;
    const options = [];
    if (Math.abs(q.x - p.x) > 1e-6) {
      options.push([gx, p.y + ((gx - p.x) / (q.x - p.x)) * (q.y - p.y)]);
    }
    if (Math.abs(q.y - p.y) > 1e-6) {
      options.push([p.x + ((gy - p.y) / (q.y - p.y)) * (q.x - p.x), gy]);
    }
    const found = options.find(([ox, oy]) => Math.hypot(ox - x, oy - y) < reach);
    if (found) return caught(onGrid(found, step), "seam", null, 1);
  }
  return caught(onGrid([bx, by], step), "seam", null, 1);
}

/** The nearest seam to a place within reach, or null. */
export function seamNear(drawing, x, y, reach) {
  let best = null;
  let least = reach;
  for (const seam of drawing.seams) {
    const { off } = toLine(seam.a.x.v, seam.a.y.v, seam.b.x.v, seam.b.y.v, x, y);
    if (off < least) [best, least] = [seam, off];
  }
  return best;
}

/** The nearest end of a seam within reach, or null. */
export function endNear(drawing, x, y, reach, only = null) {
  let best = null;
  let least = reach;
  for (const seam of only ? [only] : drawing.seams) {
    for (const end of [seam.a, seam.b]) {
      const off = Math.hypot(end.x.v - x, end.y.v - y);
      if (off < least) [best, least] = [{ seam, end }, off];
    }
  }
  return best;
}
