// What is written again and again on the sheet: names, buttons, paragraphs; and only what has changed.

import { $, $$, make, put } from "./elements.js";

export { $, $$, make, put };

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
