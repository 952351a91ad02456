// Booklet: build it with progress, stop it, download it.

import { h, fill } from "../element.js";
import { sized } from "../lettering.js";
import { get, post } from "../server.js";
import { button, heading, notice, show } from "../shell.js";
import { known, on, say } from "../state.js";
import { words } from "../words.js";

/** The job under way outlives a visit to another place. */
let job = null;

export function booklet() {
  const head = heading(words.bookletTitle, words.bookletWords);
  const state = h("div", { class: "job" });
  const { blocks, jobs = ["sheet"] } = known.project;
  const whole = jobs.includes("booklet");
  const what = h("select", { name: "what" },
    whole ? h("option", { value: "", selected: !job?.block }, words.wholeBooklet) : null,
    blocks.map(({ name, title }) => h("option", { value: name, selected: job?.block === name }, title)));
  const paper = h("select", { name: "paper" }, Object.entries(words.papers).map(([name, says]) =>
    h("option", { value: name, selected: (job?.paper ?? known.project.paper) === name }, says)));
  show(words.bookletTitle, head, h("div", { class: "booklet" },
    whole ? null : h("p", {}, words.sheetsOnly),
    h("label", { class: "field" }, h("span", {}, words.makeWhat), what),
    h("label", { class: "field" }, h("span", {}, words.paper), paper),
    h("p", { class: "acts" }, button(words.makeBooklet, () => begin(), { class: "button main" })), state));

  async function begin() {
    try {
      const order = what.value ? { job: "sheet", block: what.value } : { job: "booklet" };
      const answer = await post("/api/jobs", { ...order, paper: paper.value });
      job = { id: answer.job, state: "working", paper: paper.value, block: what.value, done: 0, of: 0, what: words.loading };
      await missed();
      say(words.loading);
    } catch (problem) {
      if (problem.status === undefined) throw problem;
      job = { state: "failed", sentence: problem.message || words.silentShort, mend: problem.told.mend };
    }
    draw();
  }

  /** A quick job may have ended before its number was known here. */
  async function missed() {
    const now = await get(`/api/jobs/${job.id}`);
    if (now.state !== "working") Object.assign(job, { state: now.state, sentence: now.sentence, mend: now.mend });
  }

  async function stop() {
    await post(`/api/jobs/${job.id}/stop`);
  }

  function draw() {
    if (!job) {
      fill(state);
      return;
    }
    const share = job.of ? job.done / job.of : 0;
    if (job.state === "working" || job.state === "waiting") {
      const bar = h("span");
      bar.style.width = `${Math.round(share * 100)}%`;
      fill(state,
        h("p", { id: "job-words" }, sized(words.progress(job.what, job.done, job.of))),
        h("div", { class: "stitching", role: "progressbar", "aria-labelledby": "job-words",
          "aria-valuemin": 0, "aria-valuemax": job.of || 1, "aria-valuenow": job.done }, bar),
        button(words.stop, stop));
    } else if (job.state === "done") {
      fill(state, h("p", {}, words.done), h("a", {
        class: "button main", href: `/api/jobs/${job.id}/file`, download: "",
      }, words.download));
    } else if (job.state === "stopped") fill(state, h("p", {}, words.stopped));
    else fill(state, notice("fault", job.sentence ?? words.failed, job.mend));
  }
  draw();
  const stops = [
    on("progress", (told) => {
      if (told.job !== job?.id) return;
      Object.assign(job, { done: told.done ?? 0, of: told.of ?? 0, what: told.what ?? words.loading });
      draw();
    }),
    on("job", (told) => {
      if (told.job !== job?.id) return;
      Object.assign(job, told);
      if (job.state === "done") say(words.done);
      if (job.state === "stopped") say(words.stopped);
      draw();
    }),
  ];
  return () => [...stops, ...head.stops].forEach((one) => one());
}
