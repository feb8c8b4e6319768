// How do words reach the screen? As text, never as markup.

/** @type {(selector: string, from?: ParentNode) => any} */
export const $ = (selector, from = document) => from.querySelector(selector);
/** @type {(selector: string, from?: ParentNode) => any[]} */
export const $$ = (selector, from = document) => [...from.querySelectorAll(selector)];

const wanted = (c) => c !== null && c !== undefined && c !== "" && c !== false;

// A figure and its unit, hours of a circle, a star's letter and its constellation: no row ends between them.
const MEASURE =
  /((?:\d+ (?:h|min) )?\d[\d.,:]*(?: ± \d[\d.]*)? (?:%|mm|m|km|kg|g|lb|ft|N·m|N|s|min|h|mag)(?![\w·])|[+−]?\d+h \d\dm|[α-ω][\u00b9\u00b2\u00b3]? [A-Z][a-z]+)/;
const PLAIN = ["BUTTON", "A", "OPTION", "TITLE", "TEXTAREA"]; // are called by their words
/** @type {(element: Element, children: any[]) => any[]} */
function kept(element, children) {
  const found = children.filter(wanted);
  if (PLAIN.includes(element.tagName)) return found;
  return found.map((child) => (typeof child === "string" && MEASURE.test(child) ? measured(child) : child));
}
// One element in the place of the words, so that they stay one item where children lie in a row.
/** @type {(words: string) => Element} */
function measured(words) {
  const whole = document.createElement("data");
  for (const [i, part] of words.split(MEASURE).entries()) {
    const piece = i % 2 ? document.createElement("data") : part;
    if (typeof piece !== "string") {
      piece.className = "measured";
      piece.textContent = part;
    }
    whole.append(piece);
  }
  return whole;
}

// Words into an element; children may be words or elements. Never markup.
/** @typedef {Node | string | number | false | null | undefined} Child null, undefined, '' and false leave it out */
/** @type {(target: string | Element, ...children: Child[]) => any} */
export function put(target, ...children) {
  const element = typeof target === "string" ? $(target) : target;
  element.replaceChildren(...kept(element, children));
  return element;
}
/**
 * @param {string} tag
 * @param {Record<string, any>} [given] attributes and properties; a name that starts with 'on' is a listener
 * @param {...any} children
 * @returns {any} the element, of whatever kind the tag makes
 */
export function make(tag, given = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name in element && typeof value !== "string") element[name] = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...kept(element, children));
  return element;
}
export const list = (target, rows, given = {}) =>
  put(target, ...rows.map((row) => make("li", given, ...(Array.isArray(row) ? row : [row]))));
// A choice of one: rows of [value, words]; `take` is given the value.
/** @type {(name: string, rows: [string, string][], chosen: string, take: (value: string) => void) => Element[]} */
export const radios = (name, rows, chosen, take) =>
  rows.map(([value, words]) =>
    make(
      "label",
      {},
      make("input", { type: "radio", name, value, checked: value === chosen, onchange: () => take(value) }),
      words,
    ),
  );
// Large words that go over to the next row whole: 'west-north-west' is no place to break.
/** @type {(words: string) => Child[]} */
export const unbroken = (words) =>
  words.split(/( )/).map((word) => (word.includes("-") ? make("span", { class: "whole" }, word) : word));
// The button #NAME-open opens the box #NAME and shuts it; gives what does so without a press.
/** @type {(name: string, opened?: () => void) => (open: boolean) => void} */
export function unfolds(name, opened = () => {}) {
  const button = $(`#${name}-open`),
    box = $(`#${name}`);
  const unfold = (open) => {
    box.hidden = !open;
    button.setAttribute("aria-expanded", String(open));
  };
  button.addEventListener("click", () => {
    unfold(box.hidden);
    if (!box.hidden) opened();
  });
  return unfold;
}
