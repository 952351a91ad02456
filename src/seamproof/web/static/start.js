// The page begins here: the project is asked for, the place of the address shown, events heard.

import { h } from "./element.js";
import { Hand, readHistory } from "./hand.js";
import { parsed } from "./exact.js";
import { get, listen, unlessRefused } from "./server.js";
import { button, drawRail, notice, placeOf, show, undoKeys } from "./shell.js";
import { choices, known, on, tell } from "./state.js";
import { words } from "./words.js";
import { blocks } from "./places/blocks.js";
import { block } from "./places/block.js";
import { booklet } from "./places/booklet.js";
import { closeHistory, toggleHistory } from "./places/history.js";
import { cloth, programme, top } from "./places/quilt.js";
import { proof } from "./places/proof.js";

const SHOWN = { blocks, block, top, cloth, programme, booklet, proof };
let leave = () => {};
let turn = 0;

async function readProject() {
  const told = await get("/api/project");
  const unit = told.measure === "cm" ? "cm" : "in";
  const allowance = parsed(told.seam ?? "") ?? parsed(unit === "cm" ? "3/4" : "1/4");
  known.project = { ...told, unit, allowance };
  known.saved = known.project.saved ?? known.saved;
  tell("project");
}

async function go() {
  const mine = (turn += 1);
  const before = known.place;
  known.place = placeOf(location.hash);
  try {
    if (known.place.place === "block") {
      if (known.block?.name !== known.place.block) {
        known.block = await Hand.open(known.place.block);
        await readHistory();
      }
    } else if (known.block) {
      known.block = null;
      await Promise.all([readHistory(), readProject()]);
    }
    if (mine !== turn) return;
    leave();
    if (before.place !== known.place.place || before.block !== known.place.block) closeHistory();
    drawRail();
    leave = (await SHOWN[known.place.place]()) ?? (() => {});
    if (before !== known.place && document.activeElement === document.body) {
      document.getElementById("main").focus({ preventScroll: true });
    }
    if (before.place !== known.place.place) scrollTo(0, 0);
  } catch (problem) {
    failed(problem);
  }
}

function failed(problem) {
  if (problem.status === undefined) throw problem;
  leave();
  leave = () => {};
  const told = problem.told ?? {};
  const sentence = problem.status === 0 ? words.silentShort :
    problem.status === 403 ? words.notSaved(words.lockedOut) : told.sentence ?? words.problem;
  show("", h("h1", {}, words.problem),
    notice("fault", sentence, told.mend ?? words.problemMore(told.reference),
      button(words.tryAgain, begin), h("a", { class: "word", href: "#blocks" }, words.blocksTitle)));
}

async function begin() {
  try {
    if (!known.project) await readProject();
    await go();
  } catch (problem) {
    failed(problem);
  }
}

/** What the program tells by itself. */
function heard(kind, told) {
  if (kind === "saved") {
    known.saved = told.time;
    tell("saved", told.time);
  } else if (kind === "project") {
    projectChanged(told).catch(unlessRefused);
  } else tell(kind, told);
}

async function projectChanged(told) {
  const hand = known.block;
  if (!hand || (told.block && told.block !== hand.name)) {
    await readProject();
    drawRail();
    if (!hand) await readHistory(); // a change of another program is a step too
    return;
  }
  if (hand.waiting.length || hand.sending) return; // a save that is under way will tell
  const now = await get(`/api/blocks/${encodeURIComponent(hand.name)}`);
  if (hand.waiting.length || hand.sending || now.revision === hand.revision) return;
  hand.take(now);
  tell("revision", hand.revision);
  await readHistory();
}

on("revision", readHistory);
on("history-asked", toggleHistory);
on("history-read", readHistory);
document.documentElement.dataset.still = choices.get("still", false);
window.addEventListener("hashchange", () => known.project && go());
undoKeys();
await begin();
listen(heard);
