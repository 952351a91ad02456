// Common units, each drawn by rule from a size: its seams, and which fabric lies where.

import { near, whole, ZERO } from "../exact.js";
import { point, withFabrics, withSeams, faceAt, onSeam } from "./model.js";

const HALF = near(0.5);


/** The trade's names are in the words; `seams` and `patches` are in shares of the unit's sides.
 * Of its fabrics 0 is the first, usually the background. */
export const UNITS = {
  hst: { fabrics: 2, seams: [[0, 1, 1, 0]], patches: [[0.25, 0.25, 0], [0.75, 0.75, 1]] },
  hourglass: {
    fabrics: 2,
    seams: [[0, 0, 1, 1], [0, 1, 1, 0]],
    patches: [[0.5, 0.2, 0], [0.8, 0.5, 1], [0.5, 0.8, 0], [0.2, 0.5, 1]],
  },
  split: {
    fabrics: 3,
    seams: [[0, 1, 1, 0], [0, 0, 0.5, 0.5]],
    patches: [[0.5, 0.2, 0], [0.2, 0.5, 1], [0.75, 0.75, 2]],
  },
  geese: {
    fabrics: 2,
    flat: true,
    seams: [[0, 1, 0.5, 0], [0.5, 0, 1, 1]],
    patches: [[0.15, 0.3, 0], [0.85, 0.3, 0], [0.5, 0.6, 1]],
  },
  square: {
    fabrics: 2,
    seams: [[0.5, 0, 1, 0.5], [1, 0.5, 0.5, 1], [0.5, 1, 0, 0.5], [0, 0.5, 0.5, 0]],
    patches: [[0.1, 0.1, 0], [0.9, 0.1, 0], [0.9, 0.9, 0], [0.1, 0.9, 0], [0.5, 0.5, 1]],
  },
  snowball: {
    fabrics: 2,
    seams: [[0.25, 0, 0, 0.25], [0.75, 0, 1, 0.25], [1, 0.75, 0.75, 1], [0.25, 1, 0, 0.75]],
    patches: [[0.08, 0.08, 0], [0.92, 0.08, 0], [0.92, 0.92, 0], [0.08, 0.92, 0], [0.5, 0.5, 1]],
  },
  half: { fabrics: 2, seams: [[0, 1, 1, 0]], patches: [[0.25, 0.25, 0], [0.75, 0.75, 1]], flat: true },
  four: grid(2),
  nine: grid(3),
  rails: {
    fabrics: 3,
    seams: [[0, 1 / 3, 1, 1 / 3], [0, 2 / 3, 1, 2 / 3]],
    patches: [[0.5, 1 / 6, 0], [0.5, 0.5, 1], [0.5, 5 / 6, 2]],
  },
  plain: { fabrics: 1, seams: [], patches: [[0.5, 0.5, 0]] },
};

function grid(n) {
  const seams = [];
  const patches = [];
  for (let i = 1; i < n; i += 1) seams.push([i / n, 0, i / n, 1], [0, i / n, 1, i / n]);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) patches.push([(j + 0.5) / n, (i + 0.5) / n, (i + j) % 2]);
  }
  return { fabrics: 2, seams, patches };
}

/** A share, exactly: thirds and sixths are no decimals. */
function share(value) {
  const twelfths = Math.round(value * 12);
  if (Math.abs(twelfths / 12 - value) < 1e-9) return whole(twelfths).over(whole(12));
  return near(value);
}

/** A place of the unit after so many quarter turns clockwise, in shares. */
function turned([x, y], quarters) {
  let [a, b] = [x, y];
  for (let i = 0; i < quarters % 4; i += 1) [a, b] = [1 - b, a];
  return [a, b];
}

/** Seams and patches of a unit with its upper left corner at a place. */
export function laid(name, at, width, height, quarters, letters) {
  const put = (spot) => {
    const [x, y] = turned(spot, quarters);
    return point(at.x.plus(width.times(share(x))), at.y.plus(height.times(share(y))));
  };
  const { seams, patches } = UNITS[name];
  return {
    seams: seams.map(([ax, ay, bx, by]) => [put([ax, ay]), put([bx, by])]),
    patches: patches.map(([x, y, which]) => {
      const [px, py] = turned([x, y], quarters);
      return { x: at.x.v + width.v * px, y: at.y.v + height.v * py, fabric: letters[which] };
    }),
  };
}

/** The drawing with a unit put into it; whatever lay in its rectangle is taken out. What the unit
 * is made of may be given as `made`, in the form of `laid`. */
export function withUnit(drawing, name, at, width, height, quarters, letters, made = null) {
  const right = at.x.plus(width);
  const foot = at.y.plus(height);
  const unit = made ?? laid(name, at, width, height, quarters, letters);
  const corners = [at, point(right, at.y), point(right, foot), point(at.x, foot)];
  const sides = corners.map((corner, i) => [corner, corners[(i + 1) % 4]]);
  let { seams, next } = emptied(drawing, at, right, foot);
  const box = [ZERO, drawing.width, ZERO, drawing.height].map(({ v }) => v);
  for (const [a, b] of [...sides, ...unit.seams]) {
    const outer = [[a.x.v, b.x.v, box.slice(0, 2)], [a.y.v, b.y.v, box.slice(2)]].some(
      ([p, q, levels]) => levels.some((level) => Math.abs(p - level) + Math.abs(q - level) < 1e-4),
    );
    if (outer || seams.some((seam) => onSeam(seam, a) && onSeam(seam, b))) continue;
    seams = [...seams, { id: next, a, b }];
    next += 1;
  }
  const changed = withSeams(drawing, seams, next);
  const found = new Map();
  for (const { x, y, fabric } of unit.patches) {
    const face = faceAt(changed, x, y);
    if (face) found.set(face.key, fabric);
  }
  return withFabrics(changed, found);
}

/** Seams without what of them lies inside a rectangle; what lies along its sides stays. */
function emptied(drawing, at, right, foot) {
  let { next } = drawing;
  const seams = drawing.seams.flatMap((seam) => {
    const inside = cutBy(seam, at, right, foot);
    if (!inside) return [seam];
    const [from, to] = inside;
    const parts = [];
    if (from > 1e-6) parts.push({ ...seam, b: between(seam, from) });
    if (to < 1 - 1e-6) {
      parts.push({ id: parts.length ? next : seam.id, a: between(seam, to), b: seam.b });
      next += parts.length - 1;
    }
    return parts;
  });
  return { seams, next };
}

function between(seam, t) {
  const share_ = near(t);
  return point(
    snappedTo(seam.a.x.plus(seam.b.x.minus(seam.a.x).times(share_))),
    snappedTo(seam.a.y.plus(seam.b.y.minus(seam.a.y).times(share_))),
  );
}

/** A cut of a seam is exact on sixty-fourths; elsewhere it is as it would be typed. */
function snappedTo(value) {
  const fine = Math.round(value.v * 64) / 64;
  return Math.abs(fine - value.v) < 1e-5 ? near(fine) : near(value.v);
}

/** Where a seam enters and leaves the inside of a rectangle, as shares of it; null if never. */
function cutBy(seam, at, right, foot) {
  let [from, to] = [0, 1];
  const sides = [
    [seam.a.x.v, seam.b.x.v, at.x.v, right.v],
    [seam.a.y.v, seam.b.y.v, at.y.v, foot.v],
  ];
  for (const [p, q, low, high] of sides) {
    if (Math.abs(q - p) < 1e-9) {
      if (p <= low + 1e-4 || p >= high - 1e-4) return null;
      continue;
    }
    const [t, u] = [(low - p) / (q - p), (high - p) / (q - p)];
    from = Math.max(from, Math.min(t, u));
    to = Math.min(to, Math.max(t, u));
  }
  return to - from > 1e-6 ? [from, to] : null;
}

/** The size that a unit has by rule for a width: geese and half rectangles are half as high. */
export function heightFor(name, width) {
  return UNITS[name].flat ? width.times(HALF) : width;
}


