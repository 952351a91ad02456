// Booklet: build it with progress, stop it, download it.

import { h, fill } from "../element.js";
import { sized } from "../lettering.js";
import { get, post } from "../server.js";
import { button, heading, notice, show } from "../shell.js";
import { known, on, say } from "../state.js";
import { words } from "../words.js";

/** The job under way outlives a visit to another place. */
let job = null;
const LISTS = ":cloth"; // no block is called so
const editions = {};

export function booklet() {
  const head = heading(words.bookletTitle, words.bookletWords);
  const state = h("div", { class: "job" });
  const { blocks, jobs = ["sheet"] } = known.project;
  const whole = jobs.includes("booklet");
  const what = h("select", { name: "what" },
    whole ? h("option", { value: "", selected: !job?.block }, words.wholeBooklet) : null,
    jobs.includes("cloth") ? h("option", { value: LISTS, selected: job?.block === LISTS }, words.clothLists) : null,
    blocks.map(({ name, title }) => h("option", { value: name, selected: job?.block === name }, title)));
  const paper = h("select", { name: "paper" }, [["", words.bothPapers], ...Object.entries(words.papers)].map(([name, says]) =>
    h("option", { value: name, selected: (job?.paper ?? known.project.paper ?? "") === name }, says)));
  show(words.bookletTitle, head, h("div", { class: "booklet" },
    whole ? null : h("p", {}, words.sheetsOnly),
    h("label", { class: "field" }, h("span", {}, words.makeWhat), what),
    h("label", { class: "field" }, h("span", {}, words.paper), paper),
    h("fieldset", { class: "plain" }, h("legend", { class: "unseen" }, words.editionsLabel),
      Object.entries(words.editions).map(([name, says]) => h("label", { class: "tick" },
        h("input", { type: "checkbox", name, checked: Boolean(editions[name]),
          onchange: (event) => { editions[name] = event.target.checked; } }), says))),
    h("p", { class: "acts" }, button(words.makeBooklet, () => begin(), { class: "button main" })), state));

  async function begin() {
    try {
      const order = what.value === LISTS ? { job: "cloth" }
        : what.value ? { job: "sheet", block: what.value } : { job: "booklet" };
      const answer = await post("/api/jobs", { ...order, ...editions, paper: paper.value || null });
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
    if (now.state !== "working") Object.assign(job, { ...now, what: job.what });
  }

  async function stop() {
    const answer = await post(`/api/jobs/${job.id}/stop`);
    job.stopping = answer.stopping;
    if (job.stopping) say(words.stopping);
    draw();
  }

  const doneWords = () => (job.block === LISTS ? words.listsDone : words.done);

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
        job.stopping ? h("p", { class: "count" }, words.stopping) : null,
        button(job.stopping ? words.stopNow : words.stop, stop));
    } else if (job.state === "done" || (job.state === "stopped" && job.files?.length)) {
      const files = job.files?.length ? job.files : [job.name];
      fill(state, h("p", {}, job.state === "done" ? doneWords() : words.stoppedKept), h("ul", {}, files.map((name, i) => h("li", {}, h("a", {
        class: i ? "button" : "button main", download: name,
        href: `/api/jobs/${job.id}/file?name=${encodeURIComponent(name)}`,
      }, words.download(name))))));
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
      Object.assign(job, { ...told, what: job.what });
      if (job.state === "done") say(doneWords());
      if (job.state === "stopped") say(job.files?.length ? words.stoppedKept : words.stopped);
      draw();
    }),
  ];
  return () => [...stops, ...head.stops].forEach((one) => one());
}
