// The desk: a board with a drawing on it, and how pointer, touch and keys work on it.

import { near, readable, whole, ZERO } from "../exact.js";
import { faceAt, point } from "../drawing/model.js";
import { snapped } from "../drawing/snapping.js";
import { choices, say } from "../state.js";
import { CAUGHT, VERBS, words } from "../words.js";
import { drawSigns } from "./signs.js";
import { measured, toolsFor } from "./verbs.js";

/** How near catches, in pixels, for a mouse and for a finger. */
const REACH = { mouse: 11, pen: 14, touch: 22 };
/** A pull shorter than this is a click. */
const STILL = 5;
/** What one turn of the wheel does. */
const WHEEL = 0.0016;
const STEP_KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Desk {
  /** `told` holds what the place wants to hear: changed(), readout(values), verb(name). */
  constructor(surface, hand, unitName, told) {
    Object.assign(this, { surface, hand, unitName, told });
    this.tools = toolsFor(this);
    this.verb = choices.get("verb", "draw");
    if (!(this.verb in this.tools)) this.verb = "draw";
    this.snaps = choices.get("snaps", {
      grid: true, ends: true, middles: true, crossings: true, angles: true,
    });
    this.symmetry = "none";
    this.onlyPart = false;
    this.pins = [];
    this.pointers = new Map();
    this.reach = REACH.mouse;
    surface.moved = () => this.redraw();
    this.listen();
  }

  get tool() {
    return this.tools[this.verb];
  }

  get drawing() {
    return this.hand.drawing;
  }

  get chosenSeam() {
    return this.drawing.seams.find(({ id }) => id === this.chosen?.seam) ?? null;
  }

  get chosenFace() {
    return this.drawing.plane.faces.find(({ key }) => key === this.chosen?.face) ?? null;
  }

  choose({ seam, face }) {
    this.chosen = { seam: seam?.id ?? null, face: face?.key ?? null };
    if (seam) say(words.seamChosen(this.seamName(seam)));
    if (face) say(words.patchChosen(this.told.patchName(face)));
    this.redraw();
    this.told.changed();
  }

  change(drawing, what) {
    this.hand.change(drawing, what);
  }

  say(text) {
    say(text);
    this.told.hint(text);
  }

  take(verb) {
    this.tool.letGo();
    this.verb = verb;
    this.chosen = verb === "move" || verb === "erase" ? { seam: this.chosen?.seam ?? null } : null;
    choices.set("verb", verb);
    this.told.verb(verb);
    this.told.hint(VERBS[verb].how);
    say(words.chooseVerb(VERBS[verb].says));
    this.redraw();
  }

  /** Words for places and lengths. */
  placeName({ x, y }) {
    return words.size(readable(x), readable(y), this.unitName);
  }

  lengthOf(a, b) {
    return `${measured(a, b).length} ${this.unitName}`;
  }

  seamName(seam) {
    return words.seamName(this.placeName(seam.a), this.placeName(seam.b), this.lengthOf(seam.a, seam.b));
  }

  isInside({ x, y }) {
    const { width, height } = this.drawing;
    return x.v >= -1e-4 && y.v >= -1e-4 && x.v <= width.v + 1e-4 && y.v <= height.v + 1e-4;
  }

  // Where the pointer is ---------------------------------------------------------------------

  /** Where a place of the block is caught, and what it was caught by. */
  caught([x, y]) {
    const { width, height } = this.drawing;
    const slack = this.reach / this.surface.k;
    const held = (value, most) => Math.min(Math.max(value, 0), most);
    const [hx, hy] = [held(x, width.v), held(y, height.v)];
    if (Math.hypot(hx - x, hy - y) > slack * 3) return null;
    return snapped(this.drawing, hx, hy, {
      on: this.snaps, step: this.step, reach: slack, start: this.tool.start,
    });
  }

  hover(spot) {
    const found = this.caught(spot);
    this.at = found;
    this.spot = spot;
    this.tool.hover(found?.at, spot);
    this.redraw();
    this.told.readout(found?.at ?? null, this.tool.start);
  }

  /** Picks a place: what a click does, and Enter at the cross. */
  pick(spot, at = this.caught(spot)?.at) {
    if (!at) return;
    this.tool.pick(at, spot);
    this.hover(spot);
  }

  redraw() {
    if (this.due || !this.surface.wide) return;
    this.due = requestAnimationFrame(() => {
      this.due = null;
      if (!this.drawing) return;
      const at = this.at?.at ?? null;
      const snaps = !["fabric", "turn", "erase"].includes(this.verb);
      drawSigns(this.surface, {
        seams: this.chosenSeam ? [this.chosenSeam] : [],
        faces: this.chosenFace ? [this.chosenFace] : [],
        pins: this.pins,
        cursor: this.byKeys ? this.cursor : null,
        snap: at && snaps && this.at.kind ? this.label(this.at) : null,
        ...this.tool.marks(at),
      });
    });
  }

  label({ at, kind, angle, seams }) {
    const name = kind === "angle" ? `${CAUGHT.angle} ${angle}°` : CAUGHT[kind];
    return { at, title: words.here(name, this.placeName(at)), words: words.meet(seams) };
  }

  // Pointer and touch ------------------------------------------------------------------------

  listen() {
    const { board } = this.surface;
    board.addEventListener("pointerdown", (event) => this.down(event));
    board.addEventListener("pointermove", (event) => this.move(event));
    board.addEventListener("pointerup", (event) => this.up(event));
    board.addEventListener("pointercancel", (event) => this.lost(event));
    board.addEventListener("pointerleave", (event) => {
      if (!this.pointers.size && event.pointerType !== "touch") this.forget();
    });
    board.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    board.addEventListener("keydown", (event) => this.key(event));
    board.addEventListener("keyup", (event) => {
      if (event.key === " ") this.space = false;
    });
    board.addEventListener("blur", () => {
      board.classList.remove("by-pointer");
      this.space = false;
      this.byKeys = false;
      this.redraw();
    });
    board.addEventListener("dblclick", (event) => event.preventDefault());
  }

  forget() {
    this.at = null;
    this.redraw();
    this.told.readout(null, this.tool.start);
  }

  down(event) {
    const note = event.target.closest?.("[data-note]");
    if (note) {
      this.told.note(Number(note.dataset.note));
      return;
    }
    this.surface.board.setPointerCapture(event.pointerId);
    this.surface.board.classList.add("by-pointer");
    this.surface.board.focus({ preventScroll: true });
    this.byKeys = false;
    this.reach = REACH[event.pointerType] ?? REACH.mouse;
    this.pointers.set(event.pointerId, event);
    if (this.pointers.size === 2 || event.button === 1 || this.space) {
      this.pulling = null;
      this.panning = true;
      event.preventDefault();
      return;
    }
    if (event.button !== 0 || this.pointers.size > 1) return;
    event.preventDefault();
    const spot = this.surface.block(event);
    this.pulling = { x: event.clientX, y: event.clientY, moved: false };
    this.hadStart = Boolean(this.tool.start || this.tool.held);
    this.pick(spot);
  }

  move(event) {
    const before = this.pointers.get(event.pointerId);
    if (before) this.pointers.set(event.pointerId, event);
    if (this.panning && before) {
      this.panned(before, event);
      return;
    }
    const { pulling } = this;
    if (pulling && Math.hypot(event.clientX - pulling.x, event.clientY - pulling.y) > STILL) {
      pulling.moved = true;
    }
    this.reach = REACH[event.pointerType] ?? REACH.mouse;
    this.hover(this.surface.block(event));
  }

  panned(before, event) {
    const all = [...this.pointers.values()];
    if (all.length < 2) {
      this.surface.pan(event.clientX - before.clientX, event.clientY - before.clientY);
      return;
    }
    const other = all.find(({ pointerId }) => pointerId !== event.pointerId);
    const reach = (one) => Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
    const box = this.surface.board.getBoundingClientRect();
    const middle = [
      (event.clientX + other.clientX) / 2 - box.left, (event.clientY + other.clientY) / 2 - box.top,
    ];
    this.surface.pan((event.clientX - before.clientX) / 2, (event.clientY - before.clientY) / 2);
    if (reach(before) > 10) this.surface.zoom(reach(event) / reach(before), middle);
  }

  up(event) {
    this.pointers.delete(event.pointerId);
    const { pulling } = this;
    if (this.panning) {
      if (!this.pointers.size) this.panning = false;
      return;
    }
    this.pulling = null;
    if (pulling?.moved && !this.hadStart && (this.tool.start || this.tool.held)) {
      this.pick(this.surface.block(event));
    }
    if (event.pointerType === "touch" && !this.tool.start) this.forget();
  }

  lost(event) {
    this.pointers.delete(event.pointerId);
    this.pulling = null;
    if (!this.pointers.size) this.panning = false;
  }

  wheel(event) {
    if (!event.ctrlKey && !event.metaKey && this.surface.fitted) return; // the page scrolls
    event.preventDefault();
    const box = this.surface.board.getBoundingClientRect();
    const at = [event.clientX - box.left, event.clientY - box.top];
    const lines = event.deltaMode === 1 ? 16 : 1;
    if (event.ctrlKey || event.metaKey) {
      const more = event.deltaY * lines * (Math.abs(event.deltaY) < 30 ? 6 : 1);
      this.surface.zoom(Math.exp(-more * WHEEL), at);
    } else this.surface.pan(-event.deltaX * lines, -event.deltaY * lines);
  }

  // Keys -------------------------------------------------------------------------------------

  key(event) {
    this.surface.board.classList.remove("by-pointer");
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const done = this.keyed(event);
    if (done) {
      event.preventDefault();
      event.stopPropagation();
    }
  }

  keyed(event) {
    const { key } = event;
    if (key in STEP_KEYS) {
      const [dx, dy] = STEP_KEYS[key];
      this.step_(dx, dy, event.shiftKey ? 4 : 1);
      return true;
    }
    if (key === "Enter") {
      this.pickCursor();
      return true;
    }
    if (key === " ") {
      this.space = true;
      return true;
    }
    if (key === "Escape") return this.letGo();
    if ((key === "Delete" || key === "Backspace") && this.chosenSeam) {
      this.tools.erase.erase(this.chosenSeam);
      return true;
    }
    if (key === "+" || key === "=") this.surface.zoom(1.25);
    else if (key === "-" || key === "−") this.surface.zoom(0.8);
    else if (key === "0" && !this.tool.start) this.surface.fit();
    else if (/^[0-9.]$/u.test(key) && (this.tool.start || this.tool.held)) this.told.type(key);
    else return this.letter(key, event.shiftKey);
    return true;
  }

  letter(key, shift) {
    if (!choices.get("single keys", true) || !/^[a-z?]$/iu.test(key)) return false;
    const small = key.toLowerCase();
    if (key === "?") this.told.keys();
    else if (this.verb === "fabric" && (this.chosenFace || this.tool.inHand) &&
        this.told.hasFabric(small)) this.tools.fabric.give(small);
    else if (small === "n") this.nextMeeting(shift ? -1 : 1);
    else if (small === "t" && this.verb === "unit") {
      this.tool.turn();
      this.redraw();
    } else {
      const verb = Object.keys(VERBS).find((name) => VERBS[name].key === small);
      if (!verb) return false;
      this.take(verb);
    }
    return true;
  }

  letGo() {
    const held = this.tool.letGo() || this.chosenSeam || this.chosenFace;
    this.chosen = null;
    this.redraw();
    this.told.changed();
    if (held) this.say(words.letGo);
    return Boolean(held);
  }

  startCursor() {
    this.byKeys = true;
    const { width, height } = this.drawing;
    if (!this.cursor || !this.isInside(this.cursor)) {
      this.cursor = point(width.over(whole(2)), height.over(whole(2)));
    }
  }

  step_(dx, dy, times) {
    this.startCursor();
    const { width, height } = this.drawing;
    const by = this.step.times(whole(times));
    const moved = (value, way, most) => {
      const to = way < 0 ? value.minus(by) : way > 0 ? value.plus(by) : value;
      return to.v < 0 ? ZERO : to.v > most.v ? most : to;
    };
    this.cursor = point(moved(this.cursor.x, dx, width), moved(this.cursor.y, dy, height));
    this.atCursor();
  }

  nextMeeting(way) {
    this.startCursor();
    const order = [...this.drawing.plane.vertices].sort((p, q) => p.y - q.y || p.x - q.x);
    const { x, y } = this.cursor;
    const rank = (v) => (Math.abs(v.y - y.v) < 1e-4 ? v.x - x.v : (v.y - y.v) * 1e4);
    const found = way > 0 ? order.find((v) => rank(v) > 1e-4) ?? order[0]
      : order.findLast((v) => rank(v) < -1e-4) ?? order.at(-1);
    const caught = snapped(this.drawing, found.x, found.y, {
      on: { ends: true, crossings: true }, step: this.step, reach: 1e-3,
    });
    this.cursor = caught.at;
    this.atCursor();
  }

  atCursor() {
    const spot = [this.cursor.x.v, this.cursor.y.v];
    this.surface.reveal(...spot);
    const found = snapped(this.drawing, ...spot, {
      on: { ends: true, crossings: true, middles: true }, step: this.step, reach: 1e-3,
    });
    this.at = { ...found, at: this.cursor };
    this.spot = spot;
    this.tool.hover(this.cursor, spot);
    this.told.readout(this.cursor, this.tool.start);
    this.redraw();
    const face = this.verb === "fabric" ? faceAt(this.drawing, ...spot) : null;
    const more = face ? this.told.patchName(face) : words.meet(found.seams);
    const name = words.here(CAUGHT[found.kind], this.placeName(this.cursor));
    say(more ? `${name}. ${more}` : name);
  }

  pickCursor() {
    this.startCursor();
    this.reach = REACH.mouse;
    this.tool.pick(this.cursor, [this.cursor.x.v, this.cursor.y.v]);
    this.redraw();
    this.told.readout(this.cursor, this.tool.start);
  }

  /** Puts the cross at a place in inches. */
  goTo(x, y) {
    this.byKeys = true;
    this.cursor = point(near(x), near(y));
    this.surface.reveal(x, y);
    this.redraw();
  }
}
