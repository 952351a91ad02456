// What is drawn over the cloth: what is chosen, pointed at, about to be drawn; snaps and pins.

import { s, set, fill } from "../element.js";
import { sizedSpans } from "../lettering.js";

const BAR = 10;
const PIN = 12;
/** How far a pin's head stands off its point, and in which directions it may. */
const SHAFTS = [44, 58];
const TURNS = [0, 0.6, -0.6, 1.2, -1.2, 1.9, -1.9, 2.6, -2.6, Math.PI];
/** Two pins nearer than this share one head. */
const TOGETHER = 28;

/** Draws the signs of a board. `marks` may hold:
 * seams: chosen ones [{a, b}], pointed: one, faces: chosen patches, rubber: [[a, b]…] to be drawn,
 * snap: {at, title, words}, cursor: a place, pins: [{at, numbers, kind}], unit: a rectangle. */
export function drawSigns(surface, marks) {
  const at = (p) => surface.screen(p.x.v, p.y.v);
  const nodes = [];
  for (const face of marks.faces ?? []) nodes.push(...patchEdge(surface, face));
  if (marks.pointed) nodes.push(...cased(at(marks.pointed.a), at(marks.pointed.b), "pointed"));
  for (const seam of marks.seams ?? []) nodes.push(...chosen(at(seam.a), at(seam.b)));
  for (const [a, b] of marks.rubber ?? []) nodes.push(...cased(at(a), at(b), "drawn"));
  if (marks.unit) nodes.push(...unitEdge(surface, marks.unit));
  if (marks.length) nodes.push(lengthLabel(marks.length, at));
  nodes.push(...pins(surface, marks.pins ?? []));
  if (marks.snap) nodes.push(...snap(surface, marks.snap, at(marks.snap.at)));
  if (marks.cursor) nodes.push(...cross(at(marks.cursor)));
  fill(surface.signs, nodes);
  snugly(surface);
  surface.rulers.mark(marks.snap ? [marks.snap.at.x.v, marks.snap.at.y.v] : null);
}

/** Boxes of labels as wide as what stands in them. */
function snugly(surface) {
  for (const box of surface.signs.querySelectorAll("rect.label, .length rect")) {
    let wide = 0;
    const texts = [];
    for (let node = box.nextElementSibling; node?.tagName === "text"; node = node.nextElementSibling) {
      wide = Math.max(wide, node.getComputedTextLength() + 20);
      texts.push(node);
    }
    const middle = box.parentNode !== surface.signs;
    const x = middle ? -wide / 2 : box.dataset.left === "yes"
      ? Number(box.dataset.at) - 26 - wide : Number(box.getAttribute("x"));
    set(box, { width: wide, x });
    if (!middle) texts.forEach((node) => set(node, { x: x + 10 }));
  }
}

function line([ax, ay], [bx, by], look) {
  return s("path", { class: look, d: `M${ax} ${ay}L${bx} ${by}` });
}

function cased(a, b, look) {
  return [line(a, b, `casing ${look}`), line(a, b, look)];
}

function chosen(a, b) {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ox, oy] = [((a[1] - b[1]) / long) * BAR, ((b[0] - a[0]) / long) * BAR];
  const bars = [a, b].map(([x, y]) => [[x - ox, y - oy], [x + ox, y + oy]]);
  return [
    ...[[a, b], ...bars].map(([p, q]) => line(p, q, "casing chosen")),
    ...[[a, b], ...bars].map(([p, q]) => line(p, q, "chosen")),
  ];
}

function patchEdge(surface, face) {
  const d = face.rings
    .map((ring) => `M${ring.map(([x, y]) => surface.screen(x, y).join(" ")).join("L")}Z`)
    .join("");
  return [s("path", { class: "casing patch", d }), s("path", { class: "patch", d })];
}

function unitEdge(surface, { at, width, height, seams }) {
  const [x, y] = surface.screen(at.x.v, at.y.v);
  const box = { x, y, width: width.v * surface.k, height: height.v * surface.k };
  const to = (p) => surface.screen(p.x.v, p.y.v);
  return [
    s("rect", { ...box, class: "casing patch" }), s("rect", { ...box, class: "patch" }),
    ...seams.flatMap(([a, b]) => cased(to(a), to(b), "drawn")),
  ];
}

function snap(surface, { title, words }, [x, y]) {
  const nodes = [
    s("path", { class: "leader", d: `M${x} ${y - 11}V0M${x - 11} ${y}H0` }),
    s("rect", { class: "casing snap", x: x - 11, y: y - 11, width: 22, height: 22 }),
    s("rect", { class: "snap", x: x - 11, y: y - 11, width: 22, height: 22 }),
  ];
  if (!title) return nodes;
  const wide = 20 + 7.2 * Math.max(title.length * 1.04, (words ?? "").length * 0.95);
  const high = words ? 48 : 30;
  const left = x + 26 + wide > surface.wide ? x - 26 - wide : x + 26;
  const top = y + 20 + high > surface.high ? y - 20 - high : y + 20;
  nodes.push(
    s("rect", {
      class: "label", x: Math.max(2, left), y: top, width: wide, height: high,
      "data-left": left < x ? "yes" : false, "data-at": x,
    }),
    s("text", { class: "label-title", x: Math.max(2, left) + 10, y: top + 20 }, sizedSpans(title)),
    words && s("text", { class: "label-words", x: Math.max(2, left) + 10, y: top + 38 }, words),
  );
  return nodes;
}

function cross([x, y]) {
  const d = `M${x - 14} ${y}h10M${x + 4} ${y}h10M${x} ${y - 14}v10M${x} ${y + 4}v10`;
  return [s("path", { class: "casing cursor", d }), s("path", { class: "cursor", d })];
}

/** The length of a seam, along it. */
function lengthLabel({ a, b, text }, at) {
  const [p, q] = [at(a), at(b)];
  const long = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const wide = 16 + 7.4 * text.length;
  if (long < wide + 24) return null;
  let turn = (Math.atan2(q[1] - p[1], q[0] - p[0]) * 180) / Math.PI;
  if (turn > 90 || turn <= -90) turn += 180;
  return s("g", {
    class: "length",
    transform: `translate(${(p[0] + q[0]) / 2} ${(p[1] + q[1]) / 2}) rotate(${turn}) translate(0 -19)`,
  }, s("rect", { x: -wide / 2, y: -11, width: wide, height: 22 }),
  s("text", { "text-anchor": "middle", y: 5 }, sizedSpans(text)));
}

/** Pins with their heads where they hide no letter and no other head, away from the block's middle
 * if they can. */
function pins(surface, list) {
  const { width, height, plane } = surface.drawing;
  const middle = surface.screen(width.v / 2, height.v / 2);
  const letters = plane.faces.map((face) => surface.screen(...face.at));
  const heads = [];
  for (const pin of list) {
    const point = surface.screen(...pin.at);
    const near = heads.find(({ feet }) => feet.some((foot) => reach(foot, point) < TOGETHER));
    if (near) {
      near.numbers = [...new Set([...near.numbers, ...pin.numbers])];
      if (near.feet.every((foot) => reach(foot, point) > 4)) near.feet.push(point);
      continue;
    }
    const out = reach(point, middle) < 20 ? 2.2
      : Math.atan2(point[1] - middle[1], point[0] - middle[0]);
    let best = null;
    for (const long of SHAFTS) {
      for (const turn of TURNS) {
        const way = [Math.cos(out + turn), Math.sin(out + turn)];
        const head = [point[0] + way[0] * long, point[1] + way[1] * long];
        const cost = inTheWay(head, letters, 26) * 2 + inTheWay(head, heads.map((h) => h.head), 28) * 3 +
          beyond(surface, head) * 4 + Math.abs(turn) * 0.1 + long * 0.001;
        if (!best || cost < best.cost - 1e-9) best = { head, way, cost };
      }
    }
    // A foot on a letter is set beside it.
    const onLetter = letters.some((at) => reach(at, point) < PIN + 2);
    const foot = onLetter ? [point[0] + best.way[0] * 16, point[1] + best.way[1] * 16] : point;
    heads.push({ head: best.head, feet: [foot], numbers: [...pin.numbers], kind: pin.kind });
  }
  return heads.flatMap(({ head, feet, numbers, kind }) => {
    const text = numbers.length > 2 ? `${numbers[0]}…` : numbers.join(" ");
    const wide = Math.max(2 * PIN, 12 + text.length * 8);
    const box = { x: head[0] - wide / 2, y: head[1] - PIN, width: wide, height: 2 * PIN, rx: PIN };
    return feet.flatMap((foot) => [
      line(foot, head, "casing shaft"), line(foot, head, `shaft ${kind}`),
      s("circle", { class: `foot ${kind}`, cx: foot[0], cy: foot[1], r: 3 }),
    ]).concat([
      s("g", { class: `pin ${kind}`, "data-note": numbers[0] },
        s("rect", { ...box, class: "casing" }), s("rect", box),
        s("text", { x: head[0], y: head[1] + 5, "text-anchor": "middle" }, text)),
    ]);
  });
}

function reach(p, q) {
  return Math.hypot(p[0] - q[0], p[1] - q[1]);
}

function inTheWay(head, others, room) {
  return others.filter((other) => reach(head, other) < room).length;
}

function beyond(surface, [x, y]) {
  const room = PIN + 3;
  return x < room || y < room || x > surface.wide - room || y > surface.high - room ? 1 : 0;
}
