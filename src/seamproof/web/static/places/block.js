// A block: its heading, the places inside it, and what holds for all of them.

import { h, fill } from "../element.js";
import { thumbnail } from "../board/thumbnail.js";
import { blockPath, get } from "../server.js";
import { button, dialog, heading, insideRow, notice, show, wordButton } from "../shell.js";
import { known, on, say } from "../state.js";
import { words } from "../words.js";
import { back } from "./back.js";
import { bulk } from "./bulk.js";
import { fit } from "./fit.js";
import { front } from "./front.js";
import { steps } from "./steps.js";

const INSIDES = { front, back, bulk, steps, fit };

/** Shows the place inside the block in hand; gives back how to leave it. */
export async function block() {
  const hand = known.block;
  const { inside } = known.place;
  const { unit } = known.project;
  const body = h("div", { class: `body ${inside}` });
  const notices = h("div", { class: "notices" });
  const head = heading(hand.title, factsOf(hand, unit));
  show(hand.title, head, insideRow(hand.name, inside), notices, body);
  const stops = [...head.stops, ...watchSaving(hand, notices)];
  const leave = await INSIDES[inside](body, hand);
  return () => {
    stops.forEach((stop) => stop());
    leave?.();
  };
}

function factsOf(hand, unit) {
  const { blocks, allowance } = known.project;
  const number = blocks.findIndex(({ name }) => name === hand.name) + 1;
  const parts = [`Block ${number} of ${blocks.length}`];
  if (hand.drawing) {
    const { width, height } = hand.drawing;
    const size = (more) => {
      const [w, hh] = [width, height].map((side) => (more ? side.plus(more).plus(more) : side).text);
      return w === hh ? `${w} ${unit}` : `${w} × ${hh} ${unit}`;
    };
    parts.push(`${size()} finished`, `${size(allowance)} unfinished`);
  }
  return parts.join(" · ");
}

/** Says when something could not be saved, and what can be done. */
function watchSaving(hand, notices) {
  const notSaved = ({ reason, mend, act }) => {
    const title = words.notSaved(reason);
    say(title);
    const acts = {
      stale: () => [wordButton(words.lookAtBoth, () => bothVersions(hand))],
      again: () => [wordButton(words.tryAgain, () => hand.send())],
      undo: () => [wordButton(words.throwAway, () => hand.giveUp().then(() => fill(notices)))],
    };
    fill(notices, notice("fault", title, mend ?? (act ? null : words.keepOpen), ...(acts[act]?.() ?? [])));
    if (act === "stale") bothVersions(hand);
  };
  const { left } = hand;
  if (left && !hand.waiting.length) {
    fill(notices, notice("fault", words.unsavedFound(hand.title, left.changes), null,
      wordButton(words.putBack, () => hand.putBack()),
      wordButton(words.throwAway, () => {
        hand.forget();
        fill(notices);
      })));
  }
  return [on("not-saved", notSaved), on("saved", () => hand.waiting.length || hand.stale || fill(notices))];
}

/** Both versions side by side, and which one goes on. */
function bothVersions(hand) {
  const { stale } = hand;
  if (!stale || document.querySelector("dialog")) return;
  const side = (title, version, says, act) => h("section", { class: "version" },
    h("h3", {}, title), version?.drawing
      ? h("div", { class: "small-board" }, thumbnail(version.drawing, known.project.fabrics, title)) : null,
    button(says, async () => {
      box.close();
      await act();
    }));
  const box = dialog(words.stale(hand.title), h("p", {}, words.staleWords),
    h("div", { class: "versions" },
      side(words.yours, stale.yours, words.keepYours, () => hand.keepMine()),
      side(words.theirs, stale.theirs, words.keepTheirs, () => hand.keepTheirs())));
}

/** A panel of the block in hand, kept up to date: `draw(told)` for each new answer. While one is
 * worked out what was shown in the element `over` stays, marked with the time since when. */
export function panel(hand, name, draw, { over = null, query = "" } = {}) {
  let asked = 0;
  const working = (well) => {
    if (!over || over.classList.contains("before") === well) return;
    over.classList.toggle("before", well);
    over.dataset.since = well ? words.workingSince(new Date().toTimeString().slice(0, 8)) : "";
  };
  let waiting = false;
  const ask = async () => {
    const mine = (asked += 1);
    try {
      const told = await get(blockPath(hand.name, `/panel/${name}${query}`));
      if (mine !== asked) return;
      if (told.status === 202) {
        waiting = true;
        working(true);
        return;
      }
      waiting = false;
      working(false);
      draw(told);
    } catch (problem) {
      if (problem.status === undefined) throw problem;
      if (mine === asked && problem.status) {
        working(false);
        draw({ findings: problem.told.findings ?? [], missing: problem.message });
      }
    }
  };
  const stops = [
    on("revision", ask),
    on("panel", (told) => {
      if (told.block === hand.name && (!told.panel || told.panel === name)) ask();
    }),
    on("heard", (well) => well && waiting && ask()),
  ];
  ask();
  return { again: ask, stop: () => stops.forEach((stop) => stop()) };
}
