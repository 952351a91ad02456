// What seams make of a block: the places where they meet, the edges between, and the patches.

/** Two places nearer than this, in inches, are one. */
const SAME = 1e-4;

/**
 * The patches of a rectangle that seams divide.
 *
 * `seams` are {id, a: {x, y}, b: {x, y}} with exact x and y. Given back are
 * vertices [{x, y, ends, seams, corner}], edges [{u, v, seams}] and faces
 * [{key, rings, area, at, room}], larger ones first. Rings are vertex points [x, y]; the first is
 * the outside, others are holes. `at` is where a letter stands, `room` the radius free round it.
 */
export function divided(width, height, seams) {
  const places = new Places();
  const lines = outlined(width, height);
  for (const seam of seams) lines.push(line(seam.a.x.v, seam.a.y.v, seam.b.x.v, seam.b.y.v, seam));
  meet(lines);
  const edges = new Map();
  for (const one of lines) cut(one, places, edges);
  for (const at of [[0, 0], [width, 0], [width, height], [0, height]]) {
    places.list[places.number(...at)].corner = true;
  }
  for (const seam of seams) {
    for (const end of [seam.a, seam.b]) {
      places.list[places.number(end.x.v, end.y.v)].ends.push({ seam, end });
    }
  }
  const list = [...edges.values()];
  return { vertices: places.list, edges: list, faces: facesOf(places.list, list) };
}

function outlined(w, h) {
  return [line(0, 0, w, 0), line(w, 0, w, h), line(w, h, 0, h), line(0, h, 0, 0)];
}

function line(ax, ay, bx, by, seam = null) {
  return {
    ax, ay, bx, by, seam, cuts: [0, 1],
    left: Math.min(ax, bx) - SAME, right: Math.max(ax, bx) + SAME,
    top: Math.min(ay, by) - SAME, foot: Math.max(ay, by) + SAME,
  };
}

class Places {
  constructor() {
    this.list = [];
    this.cells = new Map();
  }

  number(x, y) {
    const i = Math.round(x / SAME);
    const j = Math.round(y / SAME);
    for (let di = -1; di <= 1; di += 1) {
      for (let dj = -1; dj <= 1; dj += 1) {
        const found = this.cells.get(`${i + di},${j + dj}`);
        if (found !== undefined) return found;
      }
    }
    this.cells.set(`${i},${j}`, this.list.length);
    this.list.push({ x, y, ends: [], seams: new Set(), corner: false, edge: false });
    return this.list.length - 1;
  }
}

function meet(lines) {
  const order = [...lines].sort((p, q) => p.left - q.left);
  for (let i = 0; i < order.length; i += 1) {
    const p = order[i];
    for (let j = i + 1; j < order.length && order[j].left <= p.right; j += 1) {
      const q = order[j];
      if (q.top <= p.foot && q.foot >= p.top) cross(p, q);
    }
  }
}

function cross(p, q) {
  const dx = p.bx - p.ax;
  const dy = p.by - p.ay;
  const ex = q.bx - q.ax;
  const ey = q.by - q.ay;
  const turn = dx * ey - dy * ex;
  const long = Math.hypot(dx, dy);
  const other = Math.hypot(ex, ey);
  if (!long || !other) return;
  if (Math.abs(turn) > 1e-7 * long * other) {
    const t = ((q.ax - p.ax) * ey - (q.ay - p.ay) * ex) / turn;
    const u = ((q.ax - p.ax) * dy - (q.ay - p.ay) * dx) / turn;
    const slack = SAME / long;
    const room = SAME / other;
    if (t >= -slack && t <= 1 + slack && u >= -room && u <= 1 + room) {
      p.cuts.push(t);
      q.cuts.push(u);
    }
    return;
  }
  on(p, q.ax, q.ay);
  on(p, q.bx, q.by);
  on(q, p.ax, p.ay);
  on(q, p.bx, p.by);
}

function on(p, x, y) {
  const dx = p.bx - p.ax;
  const dy = p.by - p.ay;
  const long = Math.hypot(dx, dy);
  const off = Math.abs((x - p.ax) * dy - (y - p.ay) * dx) / long;
  const t = ((x - p.ax) * dx + (y - p.ay) * dy) / (long * long);
  if (off < SAME && t > 0 && t < 1) p.cuts.push(t);
}

function cut(one, places, edges) {
  const numbers = [];
  for (const t of one.cuts.sort((a, b) => a - b)) {
    const held = Math.min(1, Math.max(0, t));
    const n = places.number(one.ax + held * (one.bx - one.ax), one.ay + held * (one.by - one.ay));
    if (numbers.at(-1) !== n) numbers.push(n);
    if (one.seam) places.list[n].seams.add(one.seam.id);
    else places.list[n].edge = true;
  }
  for (let i = 1; i < numbers.length; i += 1) {
    const [u, v] = [numbers[i - 1], numbers[i]];
    if (u === v) continue;
    const key = u < v ? `${u},${v}` : `${v},${u}`;
    const edge = edges.get(key) ?? { u, v, seams: [], outside: false };
    if (one.seam) edge.seams.push(one.seam.id);
    else edge.outside = true;
    edges.set(key, edge);
  }
}

function facesOf(vertices, edges) {
  const around = vertices.map(() => []);
  edges.forEach(({ u, v }) => {
    around[u].push(v);
    around[v].push(u);
  });
  const angle = (u, v) =>
    Math.atan2(vertices[v].y - vertices[u].y, vertices[v].x - vertices[u].x);
  const rank = around.map((others, u) => {
    others.sort((a, b) => angle(u, a) - angle(u, b));
    return new Map(others.map((v, i) => [v, i]));
  });
  const done = new Set();
  const inside = [];
  const outside = [];
  for (let u = 0; u < around.length; u += 1) {
    for (const v of around[u]) {
      if (done.has(u * 1e6 + v)) continue;
      const loop = [];
      let [a, b] = [u, v];
      do {
        done.add(a * 1e6 + b);
        loop.push(a);
        const others = around[b];
        const next = others[(rank[b].get(a) + others.length - 1) % others.length];
        [a, b] = [b, next];
      } while (a !== u || b !== v);
      const ring = loop.map((n) => [vertices[n].x, vertices[n].y]);
      const area = signed(ring);
      if (area > SAME * SAME) inside.push({ ring, area });
      else if (area < 0) outside.push({ ring, area });
    }
  }
  inside.sort((p, q) => q.area - p.area);
  return withHoles(inside, outside);
}

function withHoles(inside, outside) {
  const faces = inside.map(({ ring, area }) => ({ rings: [ring], area }));
  for (const { ring, area } of outside) {
    const [x, y] = ring[0];
    const holder = faces.filter(
      (face) => face.area > -area + SAME * SAME && !ring.some((p) => at(face.rings[0], p)) &&
        within(face.rings[0], x, y),
    ).at(-1);
    if (!holder) continue; // the outside of the block itself
    holder.rings.push(ring);
    holder.area += area;
  }
  for (const face of faces) {
    face.box = boxOf(face.rings[0]);
    Object.assign(face, middleOf(face) ?? roomiest(face.rings));
    face.key = face.rings.map((ring) => keyOf(ring)).join("|");
  }
  return faces;
}

function at(ring, [x, y]) {
  return ring.some(([px, py]) => Math.abs(px - x) < SAME && Math.abs(py - y) < SAME);
}

function keyOf(ring) {
  const texts = ring.map(([x, y]) => `${x.toFixed(3)} ${y.toFixed(3)}`);
  const first = texts.indexOf([...texts].sort()[0]);
  return [...texts.slice(first), ...texts.slice(0, first)].join(",");
}

/** Area of a ring, positive if it runs clockwise as seen. */
export function signed(ring) {
  let sum = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
    sum += ring[j][0] * ring[i][1] - ring[i][0] * ring[j][1];
  }
  return sum / 2;
}

/** Whether a point lies within a ring. */
export function within(ring, x, y) {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[j];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
  }
  return odd;
}

/** Whether a point lies in a patch and in none of its holes. */
export function holds(face, x, y) {
  const [left, top, right, foot] = face.box;
  if (x < left || x > right || y < top || y > foot) return false;
  return within(face.rings[0], x, y) && !face.rings.slice(1).some((ring) => within(ring, x, y));
}

function toEdges(rings, x, y) {
  let least = Infinity;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
      least = Math.min(least, toLine(ring[j][0], ring[j][1], ring[i][0], ring[i][1], x, y).off);
    }
  }
  return rings.every((ring, i) => within(ring, x, y) === (i === 0)) ? least : -least;
}

/** How far a point is from a line between two points, and where along it (0 to 1). */
export function toLine(ax, ay, bx, by, x, y) {
  const dx = bx - ax;
  const dy = by - ay;
  const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
  return { off: Math.hypot(ax + t * dx - x, ay + t * dy - y), t };
}

function boxOf(ring) {
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** The same at once for what most patches are, rectangles that lie straight and triangles. */
function middleOf({ rings, box: [left, top, right, foot], area }) {
  if (rings.length > 1) return null;
  const corners = rings[0].filter((p, i) => turns(rings[0], i));
  if (corners.length === 4 && Math.abs((right - left) * (foot - top) - area) < SAME * SAME) {
    return { at: [(left + right) / 2, (top + foot) / 2], room: Math.min(right - left, foot - top) / 2 };
  }
  if (corners.length !== 3) return null;
  const [a, b, c] = corners;
  const side = (p, q) => Math.hypot(p[0] - q[0], p[1] - q[1]);
  const sides = [side(b, c), side(c, a), side(a, b)];
  const round = sides[0] + sides[1] + sides[2];
  const at = [0, 1].map((k) => (sides[0] * a[k] + sides[1] * b[k] + sides[2] * c[k]) / round);
  return { at, room: (2 * area) / round };
}

/** Whether a ring turns at a point; where a neighbour ends it may run straight on. */
function turns(ring, i) {
  const [a, b, c] = [ring.at(i - 1), ring[i], ring[(i + 1) % ring.length]];
  const off = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
  return Math.abs(off) > 1e-7 * Math.hypot(b[0] - a[0], b[1] - a[1]) * Math.hypot(c[0] - b[0], c[1] - b[1]);
}

/** The middle of the largest circle that fits, nearly: squares are halved where there is hope. */
function roomiest(rings) {
  const xs = rings[0].map(([x]) => x);
  const ys = rings[0].map(([, y]) => y);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const side = Math.max(Math.min(Math.max(...xs) - left, Math.max(...ys) - top), SAME) / 2;
  const cells = [];
  const add = (x, y, half) => {
    const room = toEdges(rings, x, y);
    cells.push({ x, y, half, room, hope: room + half * Math.SQRT2 });
  };
  add(xs.reduce((a, b) => a + b, 0) / xs.length, ys.reduce((a, b) => a + b, 0) / ys.length, 0);
  for (let x = left + side / 2; x < Math.max(...xs); x += side) {
    for (let y = top + side / 2; y < Math.max(...ys); y += side) add(x, y, side / 2);
  }
  let best = cells.reduce((p, q) => (q.room > p.room ? q : p));
  for (let left_ = 60; cells.length && left_ > 0; left_ -= 1) {
    let most = 0;
    for (let i = 1; i < cells.length; i += 1) if (cells[i].hope > cells[most].hope) most = i;
    const [cell] = cells.splice(most, 1);
    if (cell.hope - best.room < 0.02 * side) break;
    const half = cell.half / 2;
    const before = cells.length;
    for (const dx of [-half, half]) for (const dy of [-half, half]) add(cell.x + dx, cell.y + dy, half);
    for (const one of cells.slice(before)) if (one.room > best.room * 1.02) best = one;
  }
  return { at: [best.x, best.y], room: Math.max(best.room, 0) };
}
