// How do words reach the screen? As text, never as markup.

/** @type {(selector: string, from?: ParentNode) => any} */
export const $ = (selector, from = document) => from.querySelector(selector);
/** @type {(selector: string) => NodeListOf<HTMLElement>} */
export const $$ = (selector) => document.querySelectorAll(selector);
const wanted = (c) => c !== null && c !== undefined && c !== "" && c !== false;

/** @type {(target: string | Element, ...children: any[]) => any} */
export function put(target, ...children) {
  const element = typeof target === "string" ? $(target) : target;
  element.replaceChildren(...children.filter(wanted));
  return element;
}
/**
 * @param {string} tag
 * @param {Record<string, any>} [given] attributes; a name that starts with 'on' is a listener
 * @param {...any} children
 * @returns {any} the element, of whatever kind the tag makes
 */
export function make(tag, given = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.filter(wanted));
  return element;
}
// A name stays in its own direction of writing, whatever it holds.
export const name = (text, given = {}) => make("bdi", given, text);
export const button = (text, onclick, given = {}) =>
  make("button", { type: "button", class: "plainly", onclick, ...given }, ...[text].flat());
export const paragraph = (text, given = {}) => (text ? make("p", given, ...[text].flat()) : null);
// Only what has changed is written again, so that a finger or a reader on the page is not disturbed.
export function refresh(target, key, build) {
  const element = typeof target === "string" ? $(target) : target;
  const text = JSON.stringify(key);
  if (element.dataset.key === text) return;
  element.dataset.key = text;
  put(element, ...[build()].flat());
}
