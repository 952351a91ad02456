// Steps: the sewing as a film, forwards and backwards, front and back.

import { h, fill, picture, set } from "../element.js";
import { sized } from "../lettering.js";
import { button, factList } from "../shell.js";
import { say } from "../state.js";
import { words } from "../words.js";
import { panel } from "./block.js";

/** How much larger than the largest step, all drawn to one scale, a small one may be shown. */
const CLOSER = 1.5;
/** Of the height of the window the stage may have so much, and never less than this, in pixels. */
const SHARE = 0.5;
const LEAST = 240;

/** How long a step stays while the film plays, in milliseconds. */
const STAY = 2600;

export function steps(body, hand) {
  let frames = [];
  let at = 0;
  let playing = null;
  let over = false;
  let back = null;
  const stage = h("div", { class: "stage" });
  const told = h("div", { class: "step-words" });
  const strip = h("ol", { class: "film" });
  const stitch = h("div", { class: "stitching", "aria-hidden": "true" }, h("span"));
  const facts = h("div");
  const play = button(words.play, () => toggle(1));
  const unsew = button(words.playBack, () => toggle(-1));
  const before = button(words.backOneStep, () => go(at - 1));
  const after = button(words.sewOn, () => go(at + 1), { class: "button main" });
  const turn = button(words.turnOver, () => turnOver());

  const film = h("div", { class: "middle film-place", tabindex: 0, role: "group", "aria-label": words.filmLabel,
    onkeydown: (event) => key(event) },
  stage, h("p", { class: "acts" }, before, after, play, unsew, turn, h("span", { class: "count" }, words.filmHint)),
  strip, stitch);
  fill(body, film, h("div", { class: "right" }, told, h("section", {}, h("h2", {}, words.facts), facts),
    h("p", { class: "caution" }, words.caution)));

  function key(event) {
    if (event.ctrlKey || event.altKey || event.metaKey || event.target.matches("input, select")) return;
    const onButton = event.target.matches("button");
    if (event.key === "ArrowRight" || event.key === "ArrowDown") go(at + 1);
    else if (event.key === "ArrowLeft" || event.key === "ArrowUp") go(at - 1);
    else if (event.key === "Home") go(0);
    else if (event.key === "End") go(frames.length - 1);
    else if (event.key === " " && !onButton) toggle(event.shiftKey ? -1 : 1);
    else if (event.key.toLowerCase() === "b") turnOver();
    else return;
    event.preventDefault();
  }

  /** Plays forwards (1) or backwards (-1), from the other end if there is nothing left; or stops. */
  function toggle(way) {
    const stopped = playing;
    clearInterval(playing);
    playing = null;
    if (!stopped && frames.length) {
      const last = way > 0 ? frames.length - 1 : 0;
      if (at === last) go(frames.length - 1 - last);
      playing = setInterval(() => {
        go(at + way);
        if (at === last) toggle(way);
      }, STAY);
    }
    fill(play, playing && way > 0 ? words.pause : words.play);
    fill(unsew, playing && way < 0 ? words.pause : words.playBack);
  }

  function turnOver() {
    if (!backOf(frames[at])) {
      say(words.turnedOnly);
      return;
    }
    over = !over;
    stage.classList.add("turning");
    setTimeout(() => {
      stage.classList.remove("turning");
      drawStage();
    }, matchMedia("(prefers-reduced-motion: reduce)").matches ? 0 : 120);
    say(over ? words.back : words.front);
  }

  function go(to) {
    if (!frames.length) return;
    at = Math.min(Math.max(to, 0), frames.length - 1);
    drawStage();
    [...strip.children].forEach((node, i) => {
      node.classList.toggle("here", i === at);
      set(node.firstElementChild, { "aria-current": i === at ? "step" : false });
    });
    strip.children[at]?.scrollIntoView({ block: "nearest", inline: "nearest" });
    stitch.firstElementChild.style.width = `${((at + 1) / frames.length) * 100}%`;
    set(before, { disabled: at === 0 });
    set(after, { disabled: at === frames.length - 1 });
    const { title, caption } = frames[at];
    say(`${words.stepsTitle(at + 1, frames.length)}. ${title}. ${caption}`);
  }

  /** The back of a step; of the finished block it is the one that Back shows. */
  function backOf(frame) {
    return frame?.back ?? (frame === frames.at(-1) ? back : null);
  }

  /** The size of views side by side, in pixels. */
  function sizeOf(views) {
    const sizes = views.map((view) => [parseFloat(view.getAttribute("width")), parseFloat(view.getAttribute("height"))]);
    return [sizes.reduce((sum, [width]) => sum + width, 0), Math.max(...sizes.map(([, height]) => height))];
  }

  /** Fills the stage; a small step is nearer, but never so near that it seems the larger one. */
  function fit() {
    const views = [...stage.querySelectorAll("svg")];
    if (!views.length) return;
    const room = [stage.clientWidth - 48, Math.max(LEAST, innerHeight * SHARE)];
    const scale = (size) => Math.min(room[0] / size[0], room[1] / size[1]);
    const all = Math.min(...[...strip.querySelectorAll("svg")].map((still) => scale(sizeOf([still]))));
    const near = Math.min(scale(sizeOf(views)), CLOSER * all);
    stage.style.setProperty("--near", near);
    for (const view of views) view.style.width = `${near * sizeOf([view])[0]}px`;
  }

  function drawStage() {
    const frame = frames[at];
    const behind = backOf(frame);
    const shown = (over && behind ? [behind] : [frame.svg, frame.sewn]).filter(Boolean);
    set(turn, { "aria-pressed": String(Boolean(over && behind)), disabled: !behind, title: behind ? null : words.turnedOnly });
    fill(stage, shown.map((svg) => h("div", { class: "view" }, picture(svg, frame.caption))));
    fit();
    fill(told, h("h2", {}, words.stepsTitle(at + 1, frames.length)), h("h3", {}, sized(frame.title)),
      frame.begins ? h("p", { class: "begins" }, sized(frame.begins)) : null,
      frame.lead ? h("p", { class: "lead" }, sized(frame.lead)) : null,
      h("p", { class: "caption" }, sized(frame.caption)),
      frame.measure ? h("p", { class: "measure" }, sized(frame.measure)) : null);
  }

  function draw(answer) {
    const same = frames.length === answer.frames?.length;
    frames = answer.frames ?? [];
    fill(facts, factList(answer.facts));
    if (!frames.length) {
      fill(stage, h("p", { class: "empty" }, answer.missing ?? words.notesLater));
      fill(strip);
      fill(told);
      return;
    }
    fill(strip, frames.map((frame, i) => h("li", {}, h("button", {
      type: "button", onclick: () => go(i), "aria-label": `${words.stepsTitle(i + 1, frames.length)}, ${frame.title}`,
    }, h("span", { class: "still" }, picture(frame.svg)), h("span", {}, String(i + 1))))));
    go(same ? at : 0);
  }

  const behind = panel(hand, "back", (answer) => {
    back = answer.svg ?? null;
    if (frames.length) drawStage();
  });
  const watch = panel(hand, "steps", draw, { over: stage });
  window.addEventListener("resize", fit);
  return () => {
    window.removeEventListener("resize", fit);
    clearInterval(playing);
    watch.stop();
    behind.stop();
  };
}
