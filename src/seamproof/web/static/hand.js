// The block in hand: what is drawn, and that it is saved, one change after the other.

import { opened, told } from "./drawing/model.js";
import { blockPath, get, put, post } from "./server.js";
import { choices, known, on, say, tell } from "./state.js";
import { words } from "./words.js";

/** How soon to ask again when the program is silent, in milliseconds. */
const PATIENCE = 3000;

export class Hand {
  constructor(sent) {
    this.waiting = [];
    this.plan = "best";
    this.take(sent);
  }

  static async open(name) {
    return new Hand(await get(blockPath(name)));
  }

  /** What the server has now is what is drawn. */
  take(sent) {
    this.name = sent.name;
    this.revision = sent.revision;
    this.canDraw = sent.can_draw;
    const listed = known.project?.blocks.find(({ name }) => name === sent.name);
    this.title = sent.drawing?.title ?? listed?.title ?? sent.name;
    this.drawing = sent.drawing ? opened(sent.drawing) : null;
    this.saved = this.drawing;
    tell("drawing");
  }

  async reload() {
    this.waiting = [];
    this.forget();
    this.take(await get(blockPath(this.name)));
    tell("revision", this.revision);
  }

  /** A change, already made in the drawing given: shown at once, saved in its turn. */
  change(drawing, what) {
    if (drawing === this.drawing) return;
    this.drawing = drawing;
    this.waiting.push({ what, drawing: told(drawing) });
    this.keep();
    tell("drawing");
    this.send();
  }

  async send() {
    if (this.sending || !this.waiting.length || this.stale) return;
    this.sending = true;
    clearTimeout(this.again);
    tell("saving");
    try {
      while (this.waiting.length && !this.stale) {
        const answer = await put(blockPath(this.name), this.waiting[0], { revision: this.revision });
        this.waiting.shift();
        this.keep();
        this.revision = answer.revision;
        this.findings = answer.findings;
        known.saved = answer.saved;
        tell("saved", answer.saved);
        if (!this.waiting.length) tell("revision", this.revision);
      }
    } catch (problem) {
      this.refused(problem);
    } finally {
      this.sending = false;
    }
  }

  refused(problem) {
    if (problem.status === undefined) throw problem;
    if (problem.status === 412) {
      this.stale = problem.told;
      tell("not-saved", { reason: words.staleReason, act: "stale" });
    } else if (problem.status === 0 || problem.status >= 500) {
      tell("not-saved", { reason: problem.status ? problem.message : words.silent, act: "again" });
      this.again = setTimeout(() => this.send(), PATIENCE);
    } else if (problem.status === 403 || problem.status === 401) {
      tell("not-saved", { reason: words.lockedOut });
    } else {
      const told_ = problem.told;
      tell("not-saved", {
        reason: told_.sentence ?? told_.findings?.[0]?.what ?? words.problem,
        mend: told_.mend ?? told_.findings?.[0]?.mend, act: "undo",
      });
    }
  }

  /** After 412: what is drawn here goes on, over what was saved elsewhere (which is kept too). */
  async keepMine() {
    this.revision = this.stale.revision;
    this.stale = null;
    const last = this.waiting.at(-1);
    this.waiting = last ? [last] : [];
    await this.send();
  }

  /** After 412: what was saved elsewhere goes on. */
  async keepTheirs() {
    this.stale = null;
    await this.reload();
    tell("saved", known.saved);
  }

  /** Leaves out what could not be saved and goes back to what is. */
  giveUp() {
    return this.reload();
  }

  /** What waits to be saved is kept in this browser as well, until it is. */
  keep() {
    const last = this.waiting.at(-1);
    if (!last) this.forget();
    else {
      choices.set(this.shelf, {
        revision: this.revision, changes: this.waiting.length, drawing: last.drawing, what: last.what,
      });
    }
  }

  forget() {
    choices.set(this.shelf, null);
  }

  get shelf() {
    return `unsaved ${known.project?.folder ?? known.project?.name ?? ""}/${this.name}`;
  }

  /** What an earlier page could not save of this block, or null. */
  get left() {
    return choices.get(this.shelf, null);
  }

  /** Puts back what an earlier page could not save. */
  putBack() {
    const left = this.left;
    this.drawing = opened(left.drawing);
    this.waiting.push({ what: left.what, drawing: left.drawing });
    tell("drawing");
    return this.send();
  }
}

/** Undo or redo, of the block in hand or of the project. */
export async function stepBack(way) {
  const block = known.block?.name;
  if (known.block?.waiting.length) await known.block.send();
  try {
    const answer = await post(`/api/${way}`, block ? { block } : {});
    known.history = { undo: answer.undo ?? null, redo: answer.redo ?? null };
    if (known.block) await known.block.reload();
    say(way === "undo" ? words.undone(answer.what ?? "") : words.redone(answer.what ?? ""));
    tell("history");
    tell("saved", answer.saved ?? known.saved);
  } catch (problem) {
    if (problem.status === undefined) throw problem;
    say(problem.message || (way === "undo" ? words.nothingToUndo : words.nothingToRedo));
    await readHistory();
  }
}

/** Asks what undo and redo would do. */
export async function readHistory() {
  const block = known.block?.name;
  try {
    const answer = await get(block ? `/api/history?block=${encodeURIComponent(block)}` : "/api/history");
    known.history = { undo: answer.undo ?? null, redo: answer.redo ?? null };
  } catch (problem) {
    if (problem.status === undefined) throw problem;
  }
  tell("history");
}

on("heard", (well) => {
  if (well) known.block?.send();
});
