// Where do words stand in a round picture of the sky: beside a star, or along the rim?

import { turned } from "./clock.js";
import { around, circle, el, PAPER, words } from "./pen.js";

const BESIDE = 12, // units from a star to its name
  CLEAR = 8; // units that a name keeps from the rim

/**
 * The ways in which lines of a figure leave a star, right and up.
 * @type {(figure: number[][][], x: number, y: number) => number[][]}
 */
export function linesAt(figure, x, y) {
  const near = (end) => Math.hypot(end[0] - x, end[1] - y) < 0.3;
  return figure.flatMap(([a, b]) => [
    ...(near(a) ? [[b[0] - x, b[1] - y]] : []),
    ...(near(b) ? [[a[0] - x, a[1] - y]] : []),
  ]);
}

/**
 * Where a star's name begins: on the side that lies farthest from its lines, within the field and
 * off what is `taken` (boxes: left, top, right, bottom); null where it has no room.
 * @type {(at: number[], wide: number, size: number, centre: number[], radius: number, lines: number[][], taken?: number[][]) => number[] | null}
 */
function nameBeside([x, y], wide, size, centre, radius, lines, taken = []) {
  const high = 0.7 * size;
  const places = [
    [1, 0, BESIDE, high / 2],
    [-1, 0, -BESIDE - wide, high / 2],
    [0, 1, -wide / 2, -BESIDE],
    [0, -1, -wide / 2, BESIDE + high],
    [1, 1, BESIDE / 2, -BESIDE / 2],
    [-1, 1, -BESIDE / 2 - wide, -BESIDE / 2],
    [1, -1, BESIDE / 2, BESIDE / 2 + high],
    [-1, -1, -BESIDE / 2 - wide, BESIDE / 2 + high],
  ];
  const fits = ([, , dx, dy]) => {
    const [left, low] = [x + dx, y + dy],
      [right, top] = [left + wide, low - high];
    const inside = [left, right].every((a) =>
      [top, low].every((b) => Math.hypot(a - centre[0], b - centre[1]) < radius - CLEAR),
    );
    return inside && taken.every(([l, t, r, b]) => left > r || right < l || top > b || low < t);
  };
  /** @type {(place: number[]) => number} */
  const worst = ([right, up]) =>
    Math.max(-1, ...lines.map(([r, u]) => (r * right + u * up) / ((Math.hypot(r, u) || 1) * Math.hypot(right, up))));
  const free = places.filter(fits);
  if (!free.length) return null;
  const [, , dx, dy] = free.reduce((one, other) => (worst(other) < worst(one) - 1e-6 ? other : one));
  return [x + dx, y + dy];
}

/**
 * Sets names of stars about a sky that has turned, each clear of what is `taken` and of the names
 * before it. A name without room within the rim is left out. `spot`: where right and up stand.
 * @type {(names: { at: number[], text: SVGTextElement, lines: number[][] }[], spot: (p: number[]) => number[], turnDeg: number, centre: number[], radius: number, taken: number[][]) => void}
 */
export function setNames(names, spot, turnDeg, centre, radius, taken) {
  const boxes = [...taken];
  /** @type {(p: number[]) => number[]} */
  const now = ([right, up]) => turned(right, up, turnDeg);
  for (const { at, text, lines } of names) {
    const size = Number.parseFloat(text.getAttribute("font-size") ?? "0"),
      wide = text.getComputedTextLength();
    const place = nameBeside(spot(now(at)), wide, size, centre, radius, lines.map(now), boxes);
    text.setAttribute("visibility", place ? "visible" : "hidden");
    if (!place) continue;
    text.setAttribute("x", place[0].toFixed(1));
    text.setAttribute("y", place[1].toFixed(1));
    boxes.push([place[0] - 4, place[1] - size, place[0] + wide + 4, place[1] + 4]);
  }
}
/** @type {(at: number[], half: number) => number[]} */
export const squareAbout = ([x, y], half) => [x - half, y - half, x + half, y + half];

/**
 * A small ring with a time beside it, made once: what is made anew would be small for one frame.
 * @type {(group: SVGGElement, radius: number, size: number) => (at: number[], beside: number[], said: string) => void}
 */
export function timeMark(group, radius, size) {
  const ring = circle(0, 0, radius, { fill: PAPER, "stroke-width": 2 }),
    text = words(0, 0, "", size);
  group.append(ring, text);
  return ([x, y], [a, b], said) => {
    for (const [one, name, value] of /** @type {[SVGElement, string, number][]} */ ([
      [ring, "cx", x],
      [ring, "cy", y],
      [text, "x", a],
      [text, "y", b],
    ]))
      one.setAttribute(name, value.toFixed(2));
    if (text.textContent !== said) text.textContent = said;
  };
}

/**
 * Words to stand along a rim, one element a word: every browser draws them.
 * @type {(said: string, size: number, more: import("./pen.js").Attributes) => SVGGElement}
 */
export const rimWords = (said, size, more) =>
  el("g", {}, ...said.split(" ").map((word) => words(0, 0, word, size, more)));

/**
 * Sets them upright within a rim, the middle at an hour of its dial.
 * @type {(group: SVGGElement, centre: number[], radius: number, hour: number) => void}
 */
export function setAlongRim(group, [cx, cy], radius, hour) {
  const each = /** @type {SVGTextElement[]} */ ([...group.children]),
    below = hour > 3 && hour < 9;
  const size = Math.max(...each.map((text) => Number.parseFloat(text.getAttribute("font-size") ?? "0"))),
    gap = 0.3 * size,
    r = radius - 0.8 * size;
  const wide = each.map((text) => text.getComputedTextLength());
  let at = -(wide.reduce((a, b) => a + b, 0) + gap * (each.length - 1)) / 2;
  each.forEach((text, k) => {
    const turn = ((at + wide[k] / 2) / r) * (180 / Math.PI),
      angle = hour * 30 + (below ? -turn : turn);
    const [x, y] = around(cx, cy, r + (below ? 0.33 : -0.33) * size, angle);
    text.setAttribute("transform", `rotate(${(angle + (below ? 180 : 0)).toFixed(1)} ${x.toFixed(1)} ${y.toFixed(1)})`);
    text.setAttribute("x", x.toFixed(1));
    text.setAttribute("y", y.toFixed(1));
    at += wide[k] + gap;
  });
}
