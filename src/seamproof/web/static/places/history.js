// The history beside the work: every step by its name, and a way back or forward to each of them.

import { h, fill } from "../element.js";
import { opened } from "../drawing/model.js";
import { sized } from "../lettering.js";
import { get, post } from "../server.js";
import { wordButton } from "../shell.js";
import { known, on, say, tell } from "../state.js";
import { lower, words } from "../words.js";

let open = null;

/** Opens the history of the block in hand, or of the quilt; closes it if it is open. */
export function toggleHistory() {
  if (open) open.close();
  else open = panel();
}

/** Closes it, for another place. */
export function closeHistory() {
  open?.close();
}

function panel() {
  const before = document.activeElement;
  const list = h("ol", { class: "steps-done" });
  const kept = h("div");
  const fault = h("p", { class: "fault-words", role: "alert" });
  const close = () => {
    stops.forEach((stop) => stop());
    box.remove();
    open = null;
    tell("history-open", false);
    if (before?.isConnected) before.focus();
    else document.querySelector("[data-way=list]")?.focus();
  };
  const box = h("aside", { class: "history", "aria-label": words.historyTitle, onkeydown: (event) => {
    if (event.key === "Escape") close();
  } },
  h("h2", { tabindex: -1 }, known.block ? words.historyOf(known.block.title) : words.historyTitle),
  wordButton(words.keysClose, close), fault, list, kept);

  async function go(step, what) {
    try {
      if (known.block?.waiting.length) await known.block.send();
      const answer = await post("/api/history", { step, ...scope() });
      if (known.block) await known.block.reload();
      known.history = { undo: answer.undo ?? known.history.undo, redo: answer.redo ?? null };
      tell("saved", answer.saved ?? known.saved);
      fill(fault);
      say(words.wentTo(what));
    } catch (problem) {
      if (problem.status === undefined) throw problem;
      fill(fault, sized([problem.message || words.silentShort, problem.told.mend].filter(Boolean).join(" ")));
    }
    await draw();
    tell("history-read");
  }

  async function putBack({ id }) {
    const { drawing } = await get(`/api/kept/${id}`);
    if (drawing) known.block.change({ ...opened(drawing), next: known.block.drawing.next + drawing.seams.length }, words.keptPutBack);
    say(words.keptPutBack);
  }

  async function draw() {
    const told = await get(known.block ? `/api/history?block=${encodeURIComponent(known.block.name)}` : "/api/history");
    const here = told.entries.find(({ done }) => done)?.id ?? 0;
    const title = (name) => known.project.blocks.find((one) => one.name === name)?.title ?? name;
    const row = (step, what, more, done = true) => h("li", { class: [step === here ? "here" : "", done ? "" : "undone"].join(" ") },
      h("button", { type: "button", class: "row", "aria-current": step === here ? "step" : false, onclick: () => go(step, what) },
        h("span", {}, what), h("span", { class: "count" }, more)));
    const held = list.contains(document.activeElement);
    fill(list, told.entries.map(({ id, what, time, done, blocks }) => {
      const where = known.block ? "" : blocks.map((name) => (name === "quilt.yaml" ? words.theQuilt : title(name))).join(", ");
      return row(id, what, [where, time.slice(11, 16), done ? "" : words.stepUndone].filter(Boolean).join(" · "), done);
    }), row(0, words.theBeginning, ""));
    if (held) list.querySelector(".here button")?.focus();
    const mine = known.block ? told.kept : [];
    fill(kept, mine.length ? [h("h3", {}, words.keptTitle), h("ul", {}, mine.map((one) => h("li", { class: "kept" },
      h("span", {}, `${one.what} · ${one.time.slice(11, 16)}`),
      wordButton(words.putBack, () => putBack(one), { "aria-label": `${words.putBack}: ${lower(one.what)}, ${one.time.slice(11, 16)}` }))))] : null);
  }

  const stops = [on("history", draw)];
  document.querySelector("main").before(box);
  tell("history-open", true);
  draw().then(() => box.querySelector("h2").focus());
  return { close };
}

function scope() {
  return known.block ? { block: known.block.name } : {};
}
