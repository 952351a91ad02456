// One seam drawn, up to eight sewn: the places that a place has by symmetry.

const TURNS = [[1, 0, 0, 1], [0, -1, 1, 0], [-1, 0, 0, -1], [0, 1, -1, 0]];
const MIRROR = [-1, 0, 0, 1];

/** Ways to be symmetrical, by name, as matrices about the middle of the block. */
export const SYMMETRIES = {
  none: [TURNS[0]],
  sides: [TURNS[0], MIRROR],
  half: [TURNS[0], TURNS[2]],
  both: [TURNS[0], MIRROR, TURNS[2], [1, 0, 0, -1]],
  turns: TURNS,
  eight: [...TURNS, ...TURNS.map(([a, b, c, d]) => [-a, -b, c, d])],
};

/** Whether a block of this size can have that symmetry. */
export function fits(name, drawing) {
  return !["turns", "eight"].includes(name) || drawing.width.v === drawing.height.v;
}

/** For each way of a symmetry, the function that moves an exact place. */
export function ways(name, drawing) {
  const { width, height } = drawing;
  return (fits(name, drawing) ? SYMMETRIES[name] : SYMMETRIES.none).map(
    ([a, b, c, d]) => ({ x, y }) => ({
      x: along(a, b, x, y, width, height, width),
      y: along(c, d, x, y, width, height, height),
    }),
  );
}

/** One coordinate of a turned place: the block lies in 0 … width, 0 … height before and after. */
function along(p, q, x, y, width, height, size) {
  if (q === 0) return p > 0 ? x : size.minus(x);
  if (p === 0) return q > 0 ? y : height.minus(y);
  throw new RangeError("a symmetry of the square turns by quarters");
}
