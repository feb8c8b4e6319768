// How does the lever that balances look, and how do its weights and its tube slide?

import { page, put } from "../shared/page.js";
import { BRASS, circle, el, FAINT, HAIR, INK, line, movable, PAPER, point, words, workbench } from "../shared/pen.js";
import * as say from "../words/balance.js";
import { ticks } from "./balance_ticks.js";

const W = 640,
  H = 470,
  C = point(320, 196);
let parts = null,
  data = null,
  state = null,
  moved = (_done) => {},
  held = () => {};

// The lever turns about the middle; everything on it turns along.
// `moved` is told of each move, `held` when a hand takes hold.
export function build(answer, settings, given) {
  data = answer;
  state = settings;
  ({ moved, held } = given);
  const hour = state.axis === "hour",
    svg = workbench(W, H, say.sheet(state.axis));
  const lever = el("g", {});
  const k = hour ? shaft(lever) : tube(lever);
  const hub = el("g", {}, circle(...C, 17, { fill: PAPER, "stroke-width": 2.6 }), circle(...C, 4, { fill: INK }));
  svg.append(
    el("line", { x1: 20, y1: C[1], x2: W - 20, y2: C[1], stroke: HAIR, "stroke-dasharray": "3 7" }),
    el("path", {
      d: `M${C[0] - 26} ${H - 8}L${C[0]} ${C[1]}L${C[0] + 26} ${H - 8}Z`,
      fill: PAPER,
      stroke: HAIR,
      "stroke-width": 2,
    }),
    lever,
    hub,
  );
  parts = { svg, lever, ...k };
  put("#drawing", svg);
  arrange();
}
// Hour axis, seen from behind along the polar axis: tube to the left, weights to the right.
function shaft(lever) {
  const end = data.shaft_start_mm + data.shaft_length_mm,
    axis = data.saddle_distance_mm + data.dovetail_height_mm + data.tube_diameter_mm / 2;
  const per = Math.min(285 / end, 285 / (axis + data.tube_diameter_mm / 2), 1),
    x = (mm) => C[0] + mm * per;
  lever.append(
    el("rect", {
      x: C[0] - data.saddle_distance_mm * per,
      y: C[1] - 20,
      width: (data.saddle_distance_mm + data.shaft_start_mm) * per,
      height: 40,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 2,
    }),
  );
  lever.append(
    circle(C[0] - axis * per, C[1], (data.tube_diameter_mm / 2) * per, { fill: PAPER, "stroke-width": 2.4 }),
    words(C[0] - axis * per, C[1] + 6, say.TUBE, 18, { "font-style": "italic" }),
  );
  lever.append(
    el("rect", {
      x: C[0] - axis * per + (data.tube_diameter_mm / 2) * per,
      y: C[1] - 9,
      width: data.dovetail_height_mm * per,
      height: 18,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 1.6,
    }),
  );
  lever.append(
    el("rect", {
      x: x(data.shaft_start_mm),
      y: C[1] - 6,
      width: data.shaft_length_mm * per,
      height: 12,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 2,
    }),
    el("rect", { x: x(end) - 3, y: C[1] - 13, width: 7, height: 26, fill: INK }),
  );
  const rule = el("g", {}, line(x(data.shaft_start_mm), C[1] + 116, x(end), C[1] + 116, INK, 1.6));
  ticks(rule, [x(data.shaft_start_mm), C[1] + 116], data.shaft_length_mm, per, data.units);
  rule.append(
    words(x(data.shaft_start_mm + data.shaft_length_mm / 2), C[1] + 172, say.shaftRuler(data.units), 15, {
      fill: FAINT,
      "font-style": "italic",
    }),
  );
  for (const w of data.weights)
    rule.append(
      el("path", {
        d: `M${x(data.shaft_start_mm + w.gap_mm).toFixed(1)} ${C[1] + 115}l-7 -12h14z`,
        fill: PAPER,
        stroke: INK,
        "stroke-width": 1.5,
      }),
    );
  lever.append(rule);
  const weights = state.weights.map((w) => {
    const o = data.owned[w.i],
      r = Math.min(o.radius_mm * per, 92),
      g = el(
        "g",
        {},
        el("rect", {
          x: 0,
          y: C[1] - r,
          width: Math.max(o.thickness_mm * per, 8),
          height: 2 * r,
          fill: PAPER,
          stroke: BRASS,
          "stroke-width": 3.4,
        }),
        words((o.thickness_mm * per) / 2, C[1] + 5, say.massFigure(o.mass_kg, data.units), 16, {
          fill: BRASS,
          "font-weight": 600,
        }),
        line(0, C[1] + r, 0, C[1] + 114, BRASS, 1.8),
        el("path", { d: `M0 ${C[1] + 115}l-6 -10h12z`, fill: BRASS }),
      );
    lever.append(g);
    return { w, o, g, x: () => x(data.shaft_start_mm + w.gap) };
  });
  for (const item of weights) slideable(item, per);
  return { weights };
}
function slideable(item, per) {
  let grip = null;
  const to = (gap, done) => {
    const others = state.weights.filter((v) => v !== item.w).sort((a, b) => a.gap - b.gap);
    let low = 0,
      high = data.shaft_length_mm - item.o.thickness_mm;
    for (const v of others) {
      const t = data.owned[v.i].thickness_mm;
      if (v.gap < item.w.gap) low = Math.max(low, v.gap + t);
      else high = Math.min(high, v.gap - item.o.thickness_mm);
    }
    item.w.gap = Math.min(Math.max(high, low), Math.max(low, gap));
    moved(done);
  };
  movable(
    item.g,
    parts?.svg ?? item.g.ownerSVGElement ?? document.createElementNS("http://www.w3.org/2000/svg", "svg"),
    {
      move: (px, _, done) => {
        grip ??= px - item.x();
        to(gapAt(px - grip, per), done);
        if (done) grip = null;
      },
      nudge: (dx) => to(item.w.gap + dx, true),
      label: () => say.weightHandle(item.o.mass_kg, item.w.gap, data.units),
    },
  );
  item.g.addEventListener("pointerdown", () => {
    grip = null;
    held();
  });
}
const gapAt = (px, per) => (px - C[0]) / per - data.shaft_start_mm;

// Declination axis: the tube from the side, its front to the left, the saddle behind the middle.
function tube(lever) {
  const per = Math.min(560 / (data.tube_length_mm * 1.25), 1),
    r = (data.tube_diameter_mm / 2) * per,
    body = el("g", {});
  body.append(
    el("rect", {
      x: 0,
      y: C[1] - r,
      width: data.tube_length_mm * per,
      height: 2 * r,
      fill: PAPER,
      stroke: BRASS,
      "stroke-width": 3.4,
    }),
    words(0, C[1] - r - 10, say.FRONT, 17, { "text-anchor": "start", "font-style": "italic", fill: BRASS }),
  );
  const half = Math.min(data.dovetail_length_mm, data.tube_length_mm) / 2;
  body.append(
    el("rect", {
      x: (data.balance_from_front_mm - half) * per,
      y: C[1] - 13,
      width: 2 * half * per,
      height: 26,
      fill: "none",
      stroke: BRASS,
      "stroke-width": 1.2,
      "stroke-dasharray": "6 4",
    }),
  );
  const y = C[1] + r + 26,
    rule = el(
      "g",
      {},
      el("rect", { x: -14, y: y - 1, width: data.tube_length_mm * per + 28, height: 66, fill: PAPER }),
      line(0, y, data.tube_length_mm * per, y, INK, 1.6),
    );
  ticks(rule, [0, y], data.tube_length_mm, per, data.units);
  rule.append(
    words((data.tube_length_mm * per) / 2, y + 56, say.tubeRuler(data.units), 15, {
      fill: FAINT,
      "font-style": "italic",
    }),
  );
  rule.append(
    el("path", {
      d: `M${(data.tube_balance_from_front_mm * per).toFixed(1)} ${y - 1}l-7 -12h14z`,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 1.5,
    }),
  );
  body.append(rule);
  lever.append(body, line(C[0], C[1], C[0], y + 14, INK, 2));
  let grip = null;
  const reach = half,
    low = Math.max(0, data.balance_from_front_mm - reach),
    high = Math.min(data.tube_length_mm, data.balance_from_front_mm + reach);
  const to = (over, done) => {
    state.over = Math.min(high, Math.max(low, over));
    moved(done);
  };
  const item = { g: body };
  queueMicrotask(() =>
    movable(body, parts.svg, {
      move: (px, _, done) => {
        grip ??= px - (C[0] - state.over * per);
        to((C[0] - (px - grip)) / per, done);
        if (done) grip = null;
      },
      nudge: (dx) => to(state.over - dx, true),
      label: () => say.tubeHandle(state.over, data.units),
    }),
  );
  body.addEventListener("pointerdown", () => {
    grip = null;
    held();
  });
  return { body, per, tubeItem: item };
}
export function arrange() {
  if (!parts) return;
  for (const item of parts.weights ?? []) item.g.setAttribute("transform", `translate(${item.x().toFixed(1)} 0)`);
  if (parts.body) parts.body.setAttribute("transform", `translate(${(C[0] - state.over * parts.per).toFixed(1)} 0)`);
  for (const target of [...(parts.weights ?? []).map((i) => i.g), ...(parts.body ? [parts.body] : [])])
    target.setAttribute("aria-disabled", String(!page.leads));
}
export const turn = (radians) => {
  parts?.lever.setAttribute("transform", `rotate(${((radians * 180) / Math.PI).toFixed(2)} ${C[0]} ${C[1]})`);
};
