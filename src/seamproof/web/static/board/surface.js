// The board with the block on it: patches as keyed nodes, one transform while panning, rulers.

import { h, s, set } from "../element.js";
import { hatch } from "../hatches.js";
import { printed } from "../lettering.js";
import { Rulers } from "./rulers.js";

/** Screen pixels of board left free round the block, and round the block's own picture. */
const FREE = 44;
const MARGIN = 40;
/** Pixels to the inch, at most and at least. */
const CLOSEST = 900;
const FARTHEST = 2;
/** Radius of the disc under a patch letter, and the least on which it can be read. */
const DISC = 12;
const SMALLEST_DISC = 8.5;
/** After how long without a zoom the picture is drawn anew, sharp. */
const REST = 90;

export class Surface {
  /** `label` names the board to a screen reader; `signs` is drawn over the cloth. */
  constructor({ label, describedby, unit, allowance }) {
    this.allowance = allowance;
    this.faces = new Map();
    this.letters = new Map();
    this.hatched = new Map();
    this.defs = s("defs");
    this.sheet = s("path", { class: "allowance" });
    this.patches = s("g", { class: "patches" });
    this.hatches = s("g", { class: "hatches" });
    this.seams = s("path", { class: "seams" });
    this.outline = s("path", { class: "outline" });
    this.lettering = s("g", { class: "letters" });
    this.cloth = s("svg", { class: "cloth", "aria-hidden": "true" },
      this.defs, this.sheet, this.patches, this.hatches, this.seams, this.outline, this.lettering);
    this.signs = s("svg", { class: "signs", "aria-hidden": "true" });
    this.rulers = new Rulers(unit);
    this.board = h("div", {
      class: "board", tabindex: 0, role: "application", "aria-label": label,
      "aria-describedby": describedby, "aria-roledescription": unit.boardWord,
    }, this.cloth, this.signs);
    this.element = h("div", { class: "surface" },
      this.rulers.corner, this.rulers.across, this.rulers.down, this.board);
    this.k = 40;
    this.drawnAt = 40;
    this.x = 0;
    this.y = 0;
    this.fitted = true;
    this.moved = () => {};
    new ResizeObserver(() => this.resized()).observe(this.board);
  }

  /** Shows a drawing: only patches that changed get new nodes. */
  show(drawing, fabrics) {
    const first = !this.drawing || this.drawing.width.v !== drawing.width.v ||
      this.drawing.height.v !== drawing.height.v;
    this.drawing = drawing;
    if (this.fabrics !== fabrics) this.dress(fabrics);
    this.board.dataset.width = drawing.width.v;
    if (first) this.fit();
    else this.draw();
  }

  dress(fabrics) {
    this.fabrics = fabrics;
    this.colours = new Map(fabrics.map(({ letter, colour }) => [letter, colour]));
    this.defs.replaceChildren(
      ...fabrics.map(({ letter, colour }) => hatch(letter, colour, `hatch-${letter}`)));
    this.hatches.replaceChildren();
    this.hatched.clear();
    for (const node of this.faces.values()) node.fabric = null;
  }

  /** Draws everything at the present zoom. */
  draw() {
    if (!this.drawing || !this.wide) return;
    const { width, height, plane } = this.drawing;
    const k = this.k;
    const again = this.drawnAt !== k;
    this.drawnAt = k;
    const [w, hh] = [width.v * k, height.v * k];
    set(this.cloth, {
      width: w + 2 * MARGIN, height: hh + 2 * MARGIN,
      viewBox: `${-MARGIN} ${-MARGIN} ${w + 2 * MARGIN} ${hh + 2 * MARGIN}`,
    });
    const free = this.allowance * k;
    set(this.sheet, { d: rect(-free, -free, w + 2 * free, hh + 2 * free) });
    set(this.outline, { d: rect(0, 0, w, hh) });
    this.drawFaces(plane.faces, k, again);
    const at = plane.vertices;
    set(this.seams, {
      d: plane.edges.filter(({ seams }) => seams.length)
        .map(({ u, v }) => `M${n(at[u].x * k)} ${n(at[u].y * k)}L${n(at[v].x * k)} ${n(at[v].y * k)}`)
        .join(""),
    });
    this.place();
  }

  drawFaces(faces, k, again) {
    const there = new Set();
    const touched = new Set();
    for (const face of faces) {
      there.add(face.key);
      let node = this.faces.get(face.key);
      if (!node) {
        node = { path: s("path", { "fill-rule": "evenodd" }), fabric: null, d: "" };
        this.faces.set(face.key, node);
        this.patches.append(node.path);
      }
      if (again || !node.d) {
        node.d = face.rings.map((ring) =>
          `M${ring.map(([x, y]) => `${n(x * k)} ${n(y * k)}`).join("L")}Z`).join("");
        set(node.path, { d: node.d });
        touched.add(face.fabric);
      }
      if (node.fabric !== face.fabric) {
        touched.add(node.fabric).add(face.fabric);
        node.fabric = face.fabric;
        set(node.path, { fill: this.colours.get(face.fabric) ?? "#D8D6D0" });
      }
      this.letter(face, k, again);
    }
    for (const [key, node] of this.faces) {
      if (there.has(key)) continue;
      touched.add(node.fabric);
      node.path.remove();
      this.faces.delete(key);
      this.letters.get(key)?.group.remove();
      this.letters.delete(key);
    }
    this.drawHatches(touched);
  }

  /** One path for all patches of a fabric. */
  drawHatches(touched) {
    for (const letter of touched) {
      if (!letter || !this.colours.has(letter)) continue;
      let path = this.hatched.get(letter);
      if (!path) {
        path = s("path", { fill: `url(#hatch-${letter})`, "fill-rule": "evenodd" });
        this.hatched.set(letter, path);
        this.hatches.append(path);
      }
      const d = [];
      for (const node of this.faces.values()) if (node.fabric === letter) d.push(node.d);
      set(path, { d: d.join("") });
    }
  }

  letter(face, k, again) {
    const room = Math.min(face.room * k - 2, DISC);
    let sign = this.letters.get(face.key);
    if (room < SMALLEST_DISC) {
      sign?.group.remove();
      this.letters.delete(face.key);
      return;
    }
    if (!sign) {
      sign = { group: s("g", {}, s("circle"), s("text", { "text-anchor": "middle" })) };
      this.letters.set(face.key, sign);
      this.lettering.append(sign.group);
      again = true;
    }
    const [disc, text] = sign.group.children;
    if (again) {
      set(sign.group, { transform: `translate(${n(face.at[0] * k)} ${n(face.at[1] * k)})` });
      set(disc, { r: n(room) });
      set(text, { y: n(room * 0.44), "font-size": n(room * 1.25) });
    }
    if (sign.fabric !== face.fabric) text.textContent = printed(face.fabric);
    sign.fabric = face.fabric;
  }

  /** Puts the picture where it belongs: the one transform while panning or zooming. */
  place() {
    const share = this.k / this.drawnAt;
    const m = MARGIN * share;
    this.cloth.style.transform = `translate(${this.x - m}px, ${this.y - m}px) scale(${share})`;
    this.rulers.draw(this);
    this.moved();
  }

  resized() {
    const box = this.board.getBoundingClientRect();
    if (!box.width || (box.width === this.wide && box.height === this.high)) return;
    [this.wide, this.high] = [box.width, box.height];
    set(this.signs, { viewBox: `0 0 ${box.width} ${box.height}` });
    if (this.fitted) this.fit();
    else this.draw();
  }

  /** The whole block in the middle of the board. */
  fit() {
    if (!this.drawing || !this.wide) return;
    const { width, height } = this.drawing;
    const free = this.wide < 500 ? 18 : FREE;
    this.k = bounded(Math.min((this.wide - 2 * free) / width.v, (this.high - 2 * free) / height.v));
    this.x = (this.wide - width.v * this.k) / 2;
    this.y = (this.high - height.v * this.k) / 2;
    this.fitted = true;
    this.draw();
  }

  /** Nearer or farther by a factor, about a place of the board (its middle if none). */
  zoom(factor, at = [this.wide / 2, this.high / 2]) {
    const k = bounded(this.k * factor);
    this.x = at[0] - ((at[0] - this.x) * k) / this.k;
    this.y = at[1] - ((at[1] - this.y) * k) / this.k;
    this.k = k;
    this.fitted = false;
    this.place();
    clearTimeout(this.later);
    this.later = setTimeout(() => this.draw(), REST);
  }

  pan(dx, dy) {
    this.x += dx;
    this.y += dy;
    this.fitted = false;
    if (this.due) return;
    this.due = requestAnimationFrame(() => {
      this.due = null;
      this.place();
    });
  }

  /** Moves the view so far that a place of the block is seen. */
  reveal(x, y) {
    const [px, py] = this.screen(x, y);
    const by = (p, size) => (p < 30 ? 30 - p : p > size - 30 ? size - 30 - p : 0);
    const [dx, dy] = [by(px, this.wide), by(py, this.high)];
    if (dx || dy) this.pan(dx, dy);
  }

  /** A place of the block on the board, in pixels. */
  screen(x, y) {
    return [this.x + x * this.k, this.y + y * this.k];
  }

  /** A pointer's place in the block, in inches. */
  block(event) {
    const box = this.board.getBoundingClientRect();
    return [(event.clientX - box.left - this.x) / this.k, (event.clientY - box.top - this.y) / this.k];
  }
}

function bounded(k) {
  return Math.min(CLOSEST, Math.max(FARTHEST, k));
}

function rect(x, y, w, hh) {
  return `M${n(x)} ${n(y)}h${n(w)}v${n(hh)}h${n(-w)}Z`;
}

function n(value) {
  return Math.round(value * 100) / 100;
}


