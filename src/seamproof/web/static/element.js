// Elements of the page and of pictures, made from their names.

const SVG = "http://www.w3.org/2000/svg";

/** An HTML element. Attributes that begin with "on" are listeners; false and null are left out. */
export function h(name, attributes = {}, ...children) {
  return filled(document.createElement(name), attributes, children);
}

/** The same in a picture. */
export function s(name, attributes = {}, ...children) {
  return filled(document.createElementNS(SVG, name), attributes, children);
}

function filled(element, attributes, children) {
  set(element, attributes);
  element.append(...children.flat(3).filter((child) => child != null && child !== false));
  return element;
}

/** Sets attributes of an element; false and null take one away. */
export function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === false || value == null) element.removeAttribute(name);
    else if (value === true) element.setAttribute(name, "");
    else if (element.getAttribute(name) !== String(value)) element.setAttribute(name, value);
  }
  return element;
}

let pictures = 0;

/** A picture that the server drew, as an element. Its ids are made its own, so that several can
 * stand in one page. */
export function picture(text, label) {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml");
  const drawn = document.importNode(parsed.documentElement, true);
  const own = `p${++pictures}-`;
  for (const node of drawn.querySelectorAll("[id]")) node.id = own + node.id;
  for (const node of drawn.querySelectorAll("[clip-path]")) {
    node.setAttribute("clip-path", node.getAttribute("clip-path").replace("#", `#${own}`));
  }
  drawn.classList.add("picture");
  drawn.setAttribute("role", "img");
  if (label) drawn.setAttribute("aria-label", label);
  else if (!drawn.hasAttribute("aria-label")) drawn.setAttribute("aria-hidden", "true");
  return drawn;
}

/** Replaces what an element holds. */
export function fill(element, ...children) {
  element.replaceChildren(...children.flat(3).filter((child) => child != null && child !== false));
  return element;
}
