// Which way is a bolt or a knob turned? Its head, as whoever faces it sees it, with an arrow round it.

import { BRASS, circle, el, INK, PAPER, words } from "../shared/pen.js";

/** @type {(x: number, y: number, clockwise: boolean, text: string, bolt: boolean) => SVGElement} */
export function turnSign(x, y, clockwise, text, bolt) {
  const sign = clockwise ? 1 : -1,
    corners = [0, 1, 2, 3, 4, 5].map((i) => (i * Math.PI) / 3);
  const head = bolt
    ? el("path", {
        d: `M${corners.map((a) => `${x + 13 * Math.cos(a)} ${y + 13 * Math.sin(a)}`).join("L")}Z`,
        fill: PAPER,
        stroke: INK,
        "stroke-width": 2,
      })
    : circle(x, y, 13, { fill: PAPER, "stroke-width": 2 });
  return el(
    "g",
    {},
    head,
    el("path", {
      d: `M${x - sign * 22} ${y}A22 22 0 0 ${sign > 0 ? 1 : 0} ${x + sign * 22} ${y - 2}`,
      fill: "none",
      stroke: BRASS,
      "stroke-width": 4,
    }),
    el("path", { d: `M${x + sign * 22 - 8} ${y - 4}h16l-8 13z`, fill: BRASS }),
    words(x + 40, y + 7, text, 20, { "text-anchor": "start", "font-weight": 600 }),
  );
}
