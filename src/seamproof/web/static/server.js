// Asking the program: JSON there and back, and what it tells by itself.

/** The program could not be reached, or said no. `status` is 0 if there was no answer. */
export class Refused extends Error {
  constructor(status, told) {
    super(told.sentence ?? "");
    this.status = status;
    this.told = told;
  }
}

/** For what may be refused without harm: throws anything else. */
export function unlessRefused(problem) {
  if (!(problem instanceof Refused)) throw problem;
}

/** Asks and gives back {status, ...answer}; throws Refused for 4xx, 5xx and silence. */
export async function ask(method, path, { body, revision, signal } = {}) {
  const headers = { Accept: "application/json" };
  if (body !== undefined) headers["Content-Type"] = "application/json";
  if (revision != null) headers["If-Match"] = `"${revision}"`;
  let answer;
  try {
    answer = await fetch(path, {
      method, headers, signal, body: body === undefined ? undefined : JSON.stringify(body),
      credentials: "same-origin", cache: "no-store",
    });
  } catch (problem) {
    if (problem.name === "AbortError") throw problem;
    throw new Refused(0, {});
  }
  let told = {};
  try {
    told = await answer.json();
  } catch {
    told = {};
  }
  if (!answer.ok) throw new Refused(answer.status, told);
  return { ...told, status: answer.status };
}

export const get = (path, options) => ask("GET", path, options);
export const put = (path, body, options) => ask("PUT", path, { body, ...options });
export const post = (path, body = {}, options = {}) => ask("POST", path, { body, ...options });

/** The address of a block. */
export function blockPath(name, rest = "") {
  return `/api/blocks/${encodeURIComponent(name)}${rest}`;
}

const KINDS = ["project", "saved", "not-saved", "panel", "progress", "job"];

/** Listens to the program for as long as the page is open; `told(kind, data)` for each event, and
 * `told("heard", true or false)` when the line is open or cut. */
export function listen(told) {
  let source;
  const open = () => {
    source = new EventSource("/api/events");
    source.onopen = () => told("heard", true);
    source.onerror = () => {
      told("heard", false);
      if (source.readyState === EventSource.CLOSED) setTimeout(open, 2000);
    };
    for (const kind of KINDS) {
      source.addEventListener(kind, (event) => told(kind, JSON.parse(event.data || "{}")));
    }
  };
  open();
  window.addEventListener("pagehide", () => source.close());
}
