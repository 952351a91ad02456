// What one does on the board: draw, move, erase, give a fabric, place, turn. Each tool is told
// where the pointer or the cross is and picks; a drag is a pick at both ends.

import { decimals, near, readable } from "../exact.js";
import {
  faceAt, point, same, withDrawn, withFabrics, withMoved, without, withoutPart,
} from "../drawing/model.js";
import { endNear, onGrid, seamNear, unit } from "../drawing/snapping.js";
import { ways } from "../drawing/symmetry.js";
import { squareRound, withTurned } from "../drawing/turning.js";
import { laid, withUnit } from "../drawing/units.js";
import { printed } from "../lettering.js";
import { UNIT_NAMES, VERBS, words } from "../words.js";

/** How near a pick must be to a seam or an end, in pixels. */
const NEAR = 14;

class Tool {
  constructor(desk) {
    this.desk = desk;
  }

  /** What snaps and readouts measure from, or null. */
  get start() {
    return null;
  }

  hover() {}

  letGo() {
    return false;
  }

  marks() {
    return {};
  }

  /** Each way of the symmetry in force. */
  get ways() {
    return ways(this.desk.symmetry, this.desk.drawing);
  }

  get reach() {
    return NEAR / this.desk.surface.k;
  }

  done(drawing, verb, said) {
    const { desk } = this;
    if (drawing === desk.drawing) return false;
    desk.change(drawing, VERBS[verb].does);
    desk.say(said);
    return true;
  }
}

class Draw extends Tool {
  from = null;

  get start() {
    return this.from;
  }

  pick(at) {
    if (!this.from) {
      this.from = at;
      this.desk.say(words.begun(this.desk.placeName(at)));
    } else this.finish(at);
  }

  finish(at) {
    const { desk } = this;
    if (same(this.from, at)) return;
    if (!desk.isInside(at)) {
      desk.say(words.outside);
      return;
    }
    const pairs = this.ways.map((way) => [way(this.from), way(at)]);
    const before = desk.drawing.seams.length;
    const drawn = withDrawn(desk.drawing, pairs);
    this.from = null;
    if (!this.done(drawn, "draw", words.drawn(drawn.seams.length - before))) {
      desk.say(words.drawnAlready);
    }
  }

  /** An exact length or end that was typed. */
  typed({ length, angle, end }) {
    if (!this.from) {
      if (end) this.pick(end);
      else this.desk.say(words.noStart);
      return;
    }
    this.finish(end ?? fromAngle(this.from, length, angle));
  }

  letGo() {
    const held = this.from;
    this.from = null;
    return Boolean(held);
  }

  marks(at) {
    if (!this.from || !at) return {};
    const rubber = this.ways.map((way) => [way(this.from), way(at)]);
    return { rubber, length: { a: this.from, b: at, text: this.desk.lengthOf(this.from, at) } };
  }
}

class Move extends Tool {
  held = null;

  get start() {
    return this.held?.fixed ?? null;
  }

  pick(at, [x, y]) {
    const { desk } = this;
    if (this.held) {
      this.finish(at);
      return;
    }
    const only = desk.chosenSeam;
    const found = endNear(desk.drawing, x, y, this.reach, only) ??
      endNear(desk.drawing, x, y, this.reach);
    if (found) {
      this.grab(found.end, only && only.id === found.seam.id ? only : null);
      return;
    }
    const seam = seamNear(desk.drawing, x, y, this.reach);
    if (seam) desk.choose({ seam });
    else desk.say(words.noEnd);
  }

  grab(end, only) {
    const { desk } = this;
    const seams = desk.drawing.seams.filter(
      (seam) => (!only || seam.id === only.id) && (same(seam.a, end) || same(seam.b, end)),
    );
    const others = seams.map((seam) => (same(seam.a, end) ? seam.b : seam.a));
    this.held = { from: end, others, only, fixed: others[0] };
    desk.say(words.grabbed(desk.placeName(end), seams.length));
  }

  finish(at) {
    const { desk } = this;
    const { from, only } = this.held;
    if (!desk.isInside(at)) {
      desk.say(words.outside);
      return;
    }
    this.held = null;
    if (same(from, at)) return;
    const moves = this.ways.map((way) => [way(from), way(at)]);
    const ids = only && this.ways.length === 1 ? new Set([only.id]) : null;
    this.done(withMoved(desk.drawing, moves, ids), "move", words.moved(desk.placeName(at)));
    desk.choose({});
  }

  typed({ length, angle, end }) {
    if (!this.held) this.desk.say(words.noEnd);
    else this.finish(end ?? fromAngle(this.held.fixed, length, angle));
  }

  letGo() {
    const { held } = this;
    this.held = null;
    return Boolean(held);
  }

  marks(at) {
    if (!this.held || !at) return {};
    const { others, fixed } = this.held;
    return {
      rubber: others.map((other) => [other, at]),
      length: { a: fixed, b: at, text: this.desk.lengthOf(fixed, at) },
    };
  }
}

class Erase extends Tool {
  pick(at, [x, y]) {
    const seam = seamNear(this.desk.drawing, x, y, this.reach);
    if (seam) this.erase(seam, x, y);
    else this.desk.say(words.nothingHere);
  }

  erase(seam, x, y) {
    const { desk } = this;
    if (desk.onlyPart && x !== undefined) {
      this.done(withoutPart(desk.drawing, seam, x, y), "erase", words.erased(1));
      return;
    }
    const ids = new Set(this.ways.flatMap((way) => {
      const [a, b] = [way(seam.a), way(seam.b)];
      return desk.drawing.seams
        .filter((s) => (same(s.a, a) && same(s.b, b)) || (same(s.a, b) && same(s.b, a)))
        .map(({ id }) => id);
    }));
    desk.choose({});
    this.done(without(desk.drawing, ids), "erase", words.erased(ids.size));
  }

  hover(at, [x, y]) {
    this.near = seamNear(this.desk.drawing, x, y, this.reach);
  }

  marks() {
    const seam = this.near && this.desk.drawing.seams.find(({ id }) => id === this.near.id);
    return seam ? { pointed: seam } : {};
  }
}

class Fabric extends Tool {
  inHand = null;

  pick(at, [x, y]) {
    const { desk } = this;
    const face = faceAt(desk.drawing, x, y);
    if (!face) {
      desk.say(words.noPatch);
      return;
    }
    desk.choose({ face });
    if (this.inHand) this.give(this.inHand);
  }

  /** Gives a fabric to the patch chosen, and to those it has by symmetry; else takes it in hand. */
  give(letter) {
    const { desk } = this;
    const face = desk.chosenFace;
    if (!face) {
      this.inHand = letter;
      desk.say(words.fabricInHand(printed(letter)));
      return;
    }
    const spot = { x: near(face.at[0]), y: near(face.at[1]) };
    const letters = new Map([[face.key, letter]]);
    for (const way of this.ways) {
      const to = way(spot);
      const found = faceAt(desk.drawing, to.x.v, to.y.v);
      if (found) letters.set(found.key, letter);
    }
    const other = [...letters.keys()].some(
      (key) => desk.drawing.plane.faces.find((one) => one.key === key)?.fabric !== letter,
    );
    if (other) {
      this.done(withFabrics(desk.drawing, letters), "fabric", words.given(printed(letter), letters.size));
    }
    desk.told.changed(); // the patch stays chosen: its key is the same
  }

  letGo() {
    const held = this.inHand;
    this.inHand = null;
    return Boolean(held);
  }
}

class Unit extends Tool {
  quarters = 0;

  pick(at) {
    const { desk } = this;
    const [width, height] = this.size();
    const foot = point(at.x.plus(width), at.y.plus(height));
    if (!desk.isInside(at) || !desk.isInside(foot)) {
      desk.say(words.tooLarge);
      return;
    }
    let { drawing } = desk;
    for (const way of this.ways.length > 1 ? this.ways : [null]) {
      drawing = way ? this.placedBy(drawing, way, at, foot)
        : withUnit(drawing, desk.unit.name, at, width, height, this.quarters, desk.unit.letters);
    }
    this.done(drawing, "unit", words.placed(UNIT_NAMES[desk.unit.name]));
  }

  /** By symmetry a unit is turned and mirrored with its place: its own seams are moved. */
  placedBy(drawing, way, at, foot) {
    const [p, q] = [way(at), way(foot)];
    const least = (a, b) => (a.v < b.v ? a : b);
    const most = (a, b) => (a.v < b.v ? b : a);
    const corner = point(least(p.x, q.x), least(p.y, q.y));
    const [width, height] = [most(p.x, q.x).minus(corner.x), most(p.y, q.y).minus(corner.y)];
    const { name, letters } = this.desk.unit;
    const [w, hh] = this.size();
    const made = laid(name, at, w, hh, this.quarters, letters);
    const moved = {
      seams: made.seams.map(([a, b]) => [way(a), way(b)]),
      patches: made.patches.map(({ x, y, fabric }) => {
        const to = way({ x: near(x), y: near(y) });
        return { x: to.x.v, y: to.y.v, fabric };
      }),
    };
    return withUnit(drawing, name, corner, width, height, 0, letters, moved);
  }

  size() {
    const { width, height } = this.desk.unit;
    return this.quarters % 2 ? [height, width] : [width, height];
  }

  turn() {
    this.quarters = (this.quarters + 1) % 4;
    this.desk.say(words.turned);
  }

  marks(at) {
    if (!at) return {};
    const [width, height] = this.size();
    const { name, letters } = this.desk.unit;
    const { seams } = laid(name, at, width, height, this.quarters, letters);
    return { unit: { at, width, height, seams } };
  }
}

class Turn extends Tool {
  pick(at, [x, y]) {
    const square = squareRound(this.desk.drawing, x, y);
    if (!square) this.desk.say(words.noUnit);
    else this.done(withTurned(this.desk.drawing, square), "turn", words.turned);
  }

  hover(at, [x, y]) {
    this.square = squareRound(this.desk.drawing, x, y);
  }

  marks() {
    if (!this.square) return {};
    const { at, to } = this.square;
    return { unit: { at, width: to.x.minus(at.x), height: to.y.minus(at.y), seams: [] } };
  }
}

/** Where a seam of an exact length in a direction ends; exact where it lies on a ruler. */
function fromAngle(start, length, angle) {
  const [ux, uy] = unit(angle);
  return onGrid([start.x.v + ux * length.v, start.y.v + uy * length.v], null);
}

/** Length of a seam as one reads it, and its angle, anticlockwise from pointing right. */
export function measured(a, b) {
  const [dx, dy] = [b.x.v - a.x.v, b.y.v - a.y.v];
  const level = dx === 0 || dy === 0;
  const exact = level ? (dx === 0 ? b.y.minus(a.y) : b.x.minus(a.x)) : null;
  const length = exact ? readable(exact).replace(/^-/u, "") : decimals(Math.hypot(dx, dy), 3);
  const angle = ((Math.atan2(-dy, dx) * 180) / Math.PI + 360) % 360;
  return { length, angle: decimals(angle, 2) };
}

export function toolsFor(desk) {
  return {
    draw: new Draw(desk), move: new Move(desk), erase: new Erase(desk), fabric: new Fabric(desk),
    unit: new Unit(desk), turn: new Turn(desk),
  };
}


