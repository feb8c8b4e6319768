// How is something drawn in a page? SVG elements, scales with ticks, words along a ring.

import * as say from "../words/shared.js";

const SVG = "http://www.w3.org/2000/svg";
const DEG = Math.PI / 180;

/** @typedef {[number, number]} Point */
/** A place in a drawing, that can be spread: line(...a, ...b). @type {(x: number, y: number) => Point} */
export const point = (x, y) => [x, y];
/** @typedef {Record<string, any>} Attributes names and values; null, undefined and false leave one out */

/**
 * @param {string} tag
 * @param {Attributes} [given] a name that starts with 'on' is a listener
 * @param {...(Node | string | null)} children
 * @returns {any} the SVG element
 */
export function el(tag, given = {}, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(given)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, typeof value === "number" ? +value.toFixed(2) : value);
  }
  element.append(...children.filter((c) => c !== null && c !== undefined && c !== ""));
  return element;
}
export const INK = "var(--ink)";
export const FAINT = "var(--faint)";
export const HAIR = "var(--hair)";
export const BRASS = "var(--brass)";
export const PAPER = "var(--paper)";
export const WARN = "var(--warn)";

// A drawing of a given size with a name for those who can't see it; `workbench` is one that holds
// things to move, which a picture may not.
/** @type {(width: number, height: number, label: string, ...children: (Node | string | null)[]) => SVGSVGElement} */
export function sheet(width, height, label, ...children) {
  return el("svg", { viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": label }, ...children);
}
/** @type {(width: number, height: number, label: string) => SVGSVGElement} */
export function workbench(width, height, label) {
  const svg = sheet(width, height, label);
  svg.setAttribute("role", "group");
  return svg;
}
/** @type {(x1: number, y1: number, x2: number, y2: number, stroke?: string, width?: number, more?: Attributes) => SVGLineElement} */
export const line = (x1, y1, x2, y2, stroke = INK, width = 1, more = {}) =>
  el("line", { x1, y1, x2, y2, stroke, "stroke-width": width, ...more });
/** @type {(cx: number, cy: number, r: number, more?: Attributes) => SVGCircleElement} */
export const circle = (cx, cy, r, more = {}) => el("circle", { cx, cy, r, fill: "none", stroke: INK, ...more });
/** @type {(x: number, y: number, text: string | number, size?: number, more?: Attributes) => SVGTextElement} */
export const words = (x, y, text, size = 14, more = {}) =>
  el("text", { x, y, "font-size": size, fill: INK, "text-anchor": "middle", ...more }, String(text));
/** @type {(points: number[][], more?: Attributes) => SVGPathElement} */
export const path = (points, more = {}) =>
  el("path", { d: trace(points), fill: "none", stroke: INK, "stroke-linejoin": "round", ...more });
/** @type {(points: number[][], closed?: boolean) => string} */
export const trace = (points, closed = false) =>
  points.length ? `M${points.map((p) => `${p[0].toFixed(1)} ${p[1].toFixed(1)}`).join("L")}${closed ? "Z" : ""}` : "";
// Clockwise from the top, as clocks and compasses count.
/** @type {(cx: number, cy: number, radius: number, angleDeg: number) => Point} */
export const around = (cx, cy, radius, angleDeg) => [
  cx + radius * Math.sin(angleDeg * DEG),
  cy - radius * Math.cos(angleDeg * DEG),
];

// A graduated ring: ticks at each `step`, longer at each `middle` and `long`; labels by `label(angle)`.
/**
 * @param {number} cx
 * @param {number} cy
 * @param {number} radius
 * @param {{ step?: number, middle?: number, long?: number, label?: ((angleDeg: number) => string | number) | null, inward?: boolean, size?: number, labelRadius?: number | null }} [look]
 */
export function ring(
  cx,
  cy,
  radius,
  { step = 2, middle = 10, long = 30, label = null, inward = true, size = 14, labelRadius = null } = {},
) {
  const group = el("g", { "aria-hidden": "true" }),
    sign = inward ? -1 : 1;
  group.append(circle(cx, cy, radius, { "stroke-width": 1.6 }));
  const parts = [[], []];
  for (let a = 0; a < 360 - 1e-9; a += step) {
    const isLong = Math.abs(a / long - Math.round(a / long)) < 1e-9,
      isMiddle = Math.abs(a / middle - Math.round(a / middle)) < 1e-9;
    const deep = isLong ? 16 : isMiddle ? 10 : 5;
    const [x1, y1] = around(cx, cy, radius, a),
      [x2, y2] = around(cx, cy, radius + sign * deep, a);
    parts[isLong ? 1 : 0].push(`M${x1.toFixed(1)} ${y1.toFixed(1)}L${x2.toFixed(1)} ${y2.toFixed(1)}`);
    const text = isLong && label ? label(a) : null;
    if (text !== null && text !== undefined && text !== "") {
      const [x, y] = around(cx, cy, labelRadius ?? radius + sign * 30, a);
      group.append(words(x, y + size * 0.36, text, size));
    }
  }
  group.append(
    ...parts.map((d, i) => el("path", { d: d.join(""), stroke: INK, "stroke-width": i ? 1.8 : 0.9, fill: "none" })),
  );
  return group;
}

/** @type {(x1: number, y1: number, x2: number, y2: number, stroke?: string, width?: number, head?: number) => SVGGElement} */
export function arrow(x1, y1, x2, y2, stroke = INK, width = 2, head = 12) {
  const length = Math.hypot(x2 - x1, y2 - y1) || 1,
    ux = (x2 - x1) / length,
    uy = (y2 - y1) / length;
  const bx = x2 - ux * head,
    by = y2 - uy * head,
    s = head * 0.42;
  return el(
    "g",
    {},
    line(x1, y1, bx, by, stroke, width),
    el("path", {
      d: trace(
        [
          [x2, y2],
          [bx - uy * s, by + ux * s],
          [bx + uy * s, by - ux * s],
        ],
        true,
      ),
      fill: stroke,
    }),
  );
}

// Where a pointer is, in the drawing's own coordinates.
/** @type {(svg: SVGSVGElement, event: MouseEvent) => Point} */
export function placeIn(svg, event) {
  const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  return point(p.x, p.y);
}
// Pointer and keyboard for something that can be moved in a drawing. `move(x, y, done)` gets the
// drawing's own coordinates; `nudge(dx, dy)` gets arrow keys as -1, 0, 1 (ten with the shift key).
/**
 * @template {SVGElement} T
 * @param {T} target
 * @param {SVGSVGElement} svg
 * @param {{ move: (x: number, y: number, done: boolean) => void, nudge: (dx: number, dy: number) => void, label: () => string }} how
 * @returns {T}
 */
export function movable(target, svg, { move, nudge, label }) {
  target.classList.add("movable");
  target.setAttribute("tabindex", "0");
  target.setAttribute("role", "button");
  target.setAttribute("aria-roledescription", say.CAN_BE_MOVED);
  const name = () => target.setAttribute("aria-label", say.arrowKeys(label()));
  name();
  const placeOf = (event) => placeIn(svg, event);
  let held = false;
  target.addEventListener("pointerdown", (event) => {
    if (target.getAttribute("aria-disabled") === "true") return;
    held = true;
    target.setPointerCapture(event.pointerId);
    event.preventDefault();
    target.focus({ preventScroll: true });
  });
  target.addEventListener("pointermove", (event) => {
    if (held) {
      move(...placeOf(event), false);
      name();
    }
  });
  const end = (event) => {
    if (!held) return;
    held = false;
    move(...placeOf(event), true);
    name();
  };
  target.addEventListener("pointerup", end);
  target.addEventListener("pointercancel", () => {
    held = false;
  });
  target.addEventListener("keydown", (event) => {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (!way || target.getAttribute("aria-disabled") === "true") return;
    event.preventDefault();
    const times = event.shiftKey ? 10 : 1;
    nudge(way[0] * times, way[1] * times);
    name();
  });
  return target;
}
