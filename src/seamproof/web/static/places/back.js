// Back: the allowances as they lie, how each seam is pressed and why, plans side by side.

import { h, s, fill, picture, set } from "../element.js";
import { decimals, near } from "../exact.js";
import { toLine } from "../drawing/planar.js";
import { sized } from "../lettering.js";
import { blockPath, put } from "../server.js";
import { button, factList, wordButton } from "../shell.js";
import { known, say, tell } from "../state.js";
import { words } from "../words.js";
import { panel } from "./block.js";
import { noteList } from "./notes.js";

/** The names of plans that stand side by side, and how they are asked for. */
const PLANS = {
  best: "best", mine: "best", "usual rules": "usual", "all open": "open",
  "spun where possible": "spun", "least thick area": "thin", "nested first": "nested",
};

/** How wide a seam is to a pointer, in pixels of the picture. */
const WIDE = 26;
/** How many allowances from a thick spot the seams may lie that make it. */
const NEAR = 1.2;

export function back(body, hand) {
  let told = null;
  let chosen = null;
  let rows = null;
  /** A place to begin at, in inches, whose seams are shown: a thick spot led here. */
  let spot = spotOf(known.place.note);
  let meeting = [];
  const board = h("div", { class: "picture-board" });
  const acts = h("div", { class: "press-acts" });
  const reason = h("div", { class: "press-reason" });
  const list = h("ul", { class: "seam-list" });
  const plans = h("div", { class: "plans" });
  const facts = h("div");
  const notes = noteList();

  fill(body,
    h("div", { class: "middle" },
      h("h2", {}, words.backTitle), board, acts, reason, h("p", { class: "count" }, words.backHint),
      h("section", {}, h("h2", {}, words.plansTitle), plans)),
    h("div", { class: "right" },
      h("section", {}, h("h2", {}, words.facts), facts),
      h("section", {}, h("h2", {}, words.seamsList), list),
      h("section", {}, h("h2", {}, words.notes), notes.element)));

  function choose(id, focus = false) {
    chosen = id;
    if (!meeting.includes(id)) meeting = [];
    board.querySelectorAll("[data-seam]").forEach((node) => {
      node.classList.toggle("here", node.dataset.seam === String(id));
      node.classList.toggle("meets", meeting.includes(Number(node.dataset.seam)));
    });
    list.querySelectorAll("button").forEach((node) => {
      set(node, { "aria-pressed": String(node.dataset.seam === String(id)) });
      if (focus && node.dataset.seam === String(id)) node.scrollIntoView({ block: "nearest" });
    });
    drawActs();
  }

  function seam() {
    return told?.seams?.find(({ id }) => id === chosen) ?? null;
  }

  function drawActs() {
    const one = seam();
    const spin = one && crossingOf(one, told.seams);
    const may = hand.canDraw === true || hand.canDraw === undefined;
    fill(acts,
      button(words.pressOther, () => fix({ towards: otherSide(one), way: "towards" }), { class: "button main", disabled: !one || !may }),
      button(words.pressOpen, () => fix({ open: true, way: "open" }), { disabled: !one || !may }),
      button(words.spin, () => fixSpin(spin), { disabled: !spin || !may }),
      button(words.letDecide, () => free(), { disabled: !one?.fixed || !may }),
      hand.plan !== "best" && told?.seams?.length && may ? button(words.takePlan, () => takePlan()) : null,
      hand.drawing?.sent.fixings?.press?.length ? button(words.freeAll, () => freeAll()) : null);
    fill(reason, one ? [
      h("p", {}, sized(`${nameOf(one)}.`), " ", h("i", {}, sized(sentence(one.reason)))),
      meeting.length > 1 ? h("p", {}, words.thickHere(meeting.map((id) => words.seamNumber(id)).join(", "))) : null,
      meeting.length === 1 ? h("p", {}, words.thickSeam(words.seamNumber(meeting[0]))) : null,
      spin ? null : h("p", { class: "count" }, words.noCrossing),
    ] : h("p", {}, words.pickSeam));
  }

  async function send(fixing) {
    try {
      const answer = await put(blockPath(hand.name, "/fixing"), fixing, { revision: hand.revision });
      known.saved = answer.saved;
      await hand.reload();
      tell("saved", answer.saved);
      say(words.pressed);
    } catch (problem) {
      hand.refused(problem);
    }
  }

  const fix = (way) => send({ seam: line(seam()), ...way });
  const fixSpin = (crossing) => send({ spin: crossing, way: "spin" });
  const free = () => {
    const one = seam();
    if (one.way === "spin" && one.spun.length) return send({ spin: typed(one.spun[0]), way: null });
    return send({ seam: line(one), way: null });
  };

  /** Fixes every seam as the plan that is looked at presses it. */
  function takePlan() {
    const press = told.seams.flatMap((one) => {
      if (one.way === "spin") return one.spun.map((spot) => ({ spin: typed(spot), clockwise: one.clockwise }));
      if (one.way === "open") return [{ seam: line(one), open: true }];
      return [{ seam: line(one), towards: typed(one.towards) }];
    });
    hand.plan = "best";
    fixAll(press, words.planTaken);
  }

  const freeAll = () => fixAll([], words.allFreed);

  function fixAll(press, what) {
    const sent = { ...hand.drawing.sent, fixings: { ...hand.drawing.sent.fixings, press } };
    hand.change({ ...hand.drawing, sent }, what);
    say(what);
    look("best");
  }

  function draw(answer) {
    told = answer;
    facts.replaceChildren(factList(told.facts));
    notes.show(told.findings ?? [], null);
    if (!told.svg) {
      fill(board, h("p", { class: "empty" }, told.missing ?? words.notesLater));
    } else fill(board, picture(told.svg, words.backTitle), seamHits(told, choose));
    fill(list, (told.seams ?? []).map((one) => h("li", {},
      h("button", { type: "button", class: "row", "data-seam": one.id, "aria-pressed": "false",
        onclick: () => choose(one.id) },
      h("b", {}, String(one.id)), " ",
      h("span", {}, words.ways[one.way], one.fixed ? `, ${words.fixedByYou}` : "")))));
    if (chosen != null && !seam()) chosen = null;
    if (spot && told.seams?.length) {
      meeting = seamsAt(told.seams, spot);
      [chosen] = meeting;
      spot = null;
      choose(chosen, true);
      say(meeting.length > 1 ? words.thickHere(meeting.map((id) => words.seamNumber(id)).join(", "))
        : words.thickSeam(words.seamNumber(chosen)));
    } else choose(chosen);
  }

  function drawPlans() {
    if (!rows) {
      fill(plans, h("p", { class: "count" }, words.plansLater));
      return;
    }
    const own = rows.some(({ name }) => name === "mine") ? "mine" : "best";
    fill(plans, rows.map((row) => {
      const asked = PLANS[row.name] === "best" && row.name !== own ? null : PLANS[row.name];
      const here = asked === hand.plan;
      return h("section", { class: here ? "plan here" : "plan" },
        h("h3", {}, words.planNames[row.name] ?? row.name),
        h("p", { class: "big" }, h("b", {}, String(row.max_layers)), " ", words.bulkWorst),
        factList([
          [words.planThick, words.spotArea(decimals(row.thick_area, 2))],
          [words.planNest, `${row.nested} / ${row.crossings}`],
          [words.planUsual, `${row.usual} / ${row.seams}`],
        ]),
        here ? h("p", { class: "in-use" }, words.inUse)
          : asked && wordButton(words.usePlan, () => look(asked)));
    }));
  }

  let watch = null;
  function look(name) {
    hand.plan = name;
    watch?.stop();
    watch = panel(hand, "back", draw, {
      query: `?plan=${hand.plan}`,
      over: board,
    });
    drawPlans();
  }
  look(hand.plan ?? "best");
  // Plans beside each other take longer: what is looked at does not wait for them.
  const compared = panel(hand, "back", (answer) => {
    rows = answer.plans ?? [];
    drawPlans();
  }, { query: "?compare=yes" });
  return () => {
    watch.stop();
    compared.stop();
  };
}

/** A place that an address names, [x, y] in inches, or null. */
function spotOf(note) {
  const found = /^(-?[\d.]+),(-?[\d.]+)$/u.exec(note ?? "");
  return found ? [Number(found[1]), Number(found[2])] : null;
}

/** The numbers of the seams at a place: of those within an allowance of it, or the nearest. */
function seamsAt(seams, [x, y]) {
  const off = seams
    .map((one) => [one.id, toLine(...one.from, ...one.to, x, y).off])
    .sort((a, b) => a[1] - b[1]);
  const { allowance, unit } = known.project;
  const reach = (NEAR * allowance.v) / (unit === "cm" ? 2.54 : 1);
  return off.filter(([, far]) => far <= Math.max(reach, off[0][1] + 1e-3)).map(([id]) => id);
}

/** Something to press on every seam of the picture, and the mark of the chosen one. */
function seamHits(told, choose) {
  const { x, y, scale, mirrored, width, height } = told.frame;
  const at = ([px, py]) => [mirrored ? x - px * scale : x + px * scale, y + py * scale];
  return s("svg", { class: "hits", viewBox: `0 0 ${width} ${height}`, "aria-hidden": "true" },
    told.seams.map((one) => {
      const [a, b] = [at(one.from), at(one.to)];
      const d = `M${a.join(" ")}L${b.join(" ")}`;
      const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
      const [ox, oy] = [((a[1] - b[1]) / long) * 9, ((b[0] - a[0]) / long) * 9];
      const bars = [a, b].map(([px, py]) => `M${px - ox} ${py - oy}L${px + ox} ${py + oy}`).join("");
      return s("g", { "data-seam": one.id, onclick: () => choose(one.id, true) },
        s("path", { class: "hit", d, "stroke-width": WIDE }),
        s("path", { class: "casing chosen", d: d + bars }), s("path", { class: "chosen", d: d + bars }));
    }));
}

function nameOf(one) {
  const way = one.fixed ? `${words.ways[one.way]}, ${words.fixedByYou}` : words.ways[one.way];
  return `${words.seamNumber(one.id)}: ${way}`;
}

function sentence(reason) {
  if (!reason) return "";
  const text = reason.charAt(0).toUpperCase() + reason.slice(1);
  return /[.!?]$/u.test(text) ? text : `${text}.`;
}

/** A place that the program gives in inches, as the project writes it. */
function typed(spot) {
  const share = known.project.unit === "cm" ? 2.54 : 1;
  return spot.map((value) => near(value * share).text);
}

function line(one) {
  return [typed(one.from), typed(one.to)];
}

/** A point on the side to which the allowances do not go now. */
function otherSide(one) {
  const [[ax, ay], [bx, by]] = [one.from, one.to];
  const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
  const long = Math.hypot(bx - ax, by - ay) || 1;
  const [nx, ny] = [(by - ay) / long, (ax - bx) / long];
  const reach = Math.min(0.25, long / 4);
  const now = one.towards ? (one.towards[0] - mx) * nx + (one.towards[1] - my) * ny : -1;
  const sign = now > 0 ? -1 : 1;
  return typed([mx + sign * nx * reach, my + sign * ny * reach]);
}

/** A place inside the block where this seam crosses others, or null. */
function crossingOf(one, seams) {
  if (one.spun.length) return typed(one.spun[0]);
  for (const end of [one.from, one.to]) {
    const meeting = seams.filter(({ from, to }) =>
      [from, to].some((p) => Math.hypot(p[0] - end[0], p[1] - end[1]) < 1e-3) ||
      passes(from, to, end));
    if (meeting.length >= 3) return typed(end);
  }
  for (const other of seams) {
    for (const end of [other.from, other.to]) if (passes(one.from, one.to, end)) return typed(end);
  }
  return null;
}

function passes([ax, ay], [bx, by], [x, y]) {
  const long = Math.hypot(bx - ax, by - ay);
  const along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long;
  const off = Math.abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / long;
  return off < 1e-3 && along > 1e-3 && along < long - 1e-3;
}
