// How does a drawing made by the machine come onto the page? As parsed SVG, never as markup of ours.

import { make } from "./elements.js";

const ALLOWED = new Set([
  "svg",
  "g",
  "path",
  "line",
  "circle",
  "rect",
  "text",
  "textPath",
  "tspan",
  "title",
  "desc",
  "ellipse",
  "polyline",
  "polygon",
  "defs",
  "clipPath",
]);

// The drawing's element, or null if the text is no drawing; anything that could run is refused.
/** @type {(text: string | null | undefined) => Element | null} */
export function drawingFrom(text) {
  if (!text) return null;
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml"),
    root = parsed.documentElement;
  if (root.localName !== "svg") return null;
  for (const element of [root, ...root.querySelectorAll("*")]) {
    if (!ALLOWED.has(element.localName)) return null;
    for (const { name, value } of [...element.attributes])
      if (/^on|href$/i.test(name) && !value.startsWith("#")) return null;
  }
  // The page's own paper shows through.
  const paper = root.querySelector(":scope > rect");
  if (paper?.getAttribute("width") === "100%") paper.remove();
  root.removeAttribute("width");
  root.removeAttribute("height");
  const title = root.querySelector("title");
  if (title) {
    root.setAttribute("aria-label", title.textContent);
    title.remove();
  }
  return document.importNode(root, true);
}

// Drawings made by the machine beside each other, each over its own words.
/** @type {(fields: Array<[string, string]>) => Element[]} */
export const fieldsOf = (fields) =>
  fields.map(([drawing, words]) => make("figure", {}, drawingFrom(drawing), make("figcaption", {}, words)));
