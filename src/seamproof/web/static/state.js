// What the page knows, and who wants to hear when it changes.

const listeners = new Map();

/** What is known: project, place, block in hand, notes, what was saved. */
export const known = {
  project: null,
  place: { place: "blocks" },
  block: null,
  saved: null,
  history: { undo: null, redo: null },
};

/** Calls `listener` whenever a topic changes; gives back how to stop it. */
export function on(topic, listener) {
  const some = listeners.get(topic) ?? new Set();
  listeners.set(topic, some.add(listener));
  return () => some.delete(listener);
}

/** Says that a topic changed. */
export function tell(topic, what) {
  for (const listener of [...(listeners.get(topic) ?? [])]) listener(what);
}

const said = document.getElementById("said");
let last = 0;

/** Says something to whoever listens to the page instead of looking at it. */
export function say(words) {
  last = (last + 1) % 2;
  said.textContent = words + (last ? "\u00a0" : ""); // so that the same words are said again
}

/** Small choices of this browser, such as the grid's step. */
export const choices = {
  get(name, otherwise) {
    try {
      return JSON.parse(localStorage.getItem(`seamproof ${name}`)) ?? otherwise;
    } catch {
      return otherwise;
    }
  },
  set(name, value) {
    try {
      localStorage.setItem(`seamproof ${name}`, JSON.stringify(value));
    } catch {
      // A browser that keeps nothing still draws.
    }
  },
};
