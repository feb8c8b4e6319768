// Where does the axis point, how well is that known, and how did the last measurement shrink it?
// Drawn as seen facing the pole: up is higher, east to the right facing north, to the left south.

import { keptWithin } from "./measure.js";
import { arrow, BRASS, circle, el, FAINT, INK, line, PAPER, point, sheet, trace, WARN, words } from "./pen.js";

const W = 640,
  SIDE = 548,
  LEFT = 62,
  TOP = 16,
  C = point(LEFT + SIDE / 2, TOP + SIDE / 2);
const NINETY_FIVE = Math.sqrt(-2 * Math.log(0.05)); // semi-axes of the 95 % ellipse in sigmas
const MARKS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
const DEG = Math.PI / 180;

function extent(e) {
  if (!e?.ellipse) return Math.max(Math.abs(e?.high ?? 0), Math.abs(e?.east ?? 0));
  const a = e.ellipse.turn * DEG,
    { long, short } = e.ellipse;
  return Math.max(
    Math.abs(e.east) + Math.hypot(long * Math.cos(a), short * Math.sin(a)),
    Math.abs(e.high) + Math.hypot(long * Math.sin(a), short * Math.cos(a)),
  );
}
// Half the side, in arcminutes, and the step of its scale.
export function reachOf(estimates, good) {
  const own = Math.max(...estimates.map(extent), 0.5),
    wanted = Math.max(own, good < 3 * own ? good : 0) * 1.12;
  const power = 10 ** Math.floor(Math.log10(wanted / 3)),
    step = [1, 2, 5, 10].map((s) => s * power).find((s) => s >= wanted / 5);
  return { reach: Math.ceil(wanted / step) * step, step };
}
// What is drawn of an estimate in the answer's own words.
export const shapeOf = (d) => ({
  high: d.high_arcmin,
  east: d.east_arcmin,
  line: d.line_deg,
  sigma: d.across_line_sigma_arcmin,
  rank: d.rank,
  ellipse: d.ellipse_95
    ? { long: d.ellipse_95.long_arcmin, short: d.ellipse_95.short_arcmin, turn: d.ellipse_95.turn_deg }
    : null,
});
// Between two shapes, the way that a part `t` of the change has been made.
export function between(a, b, t) {
  if (!a?.ellipse || !b.ellipse) return b;
  const mix = (x, y) => x + (y - x) * t,
    turn = ((b.ellipse.turn - a.ellipse.turn + 270) % 180) - 90;
  return {
    ...b,
    high: mix(a.high, b.high),
    east: mix(a.east, b.east),
    ellipse: {
      long: mix(a.ellipse.long, b.ellipse.long),
      short: mix(a.ellipse.short, b.ellipse.short),
      turn: a.ellipse.turn + turn * t,
    },
  };
}

function outline(e, at, sigmas = NINETY_FIVE) {
  const points = [],
    k = sigmas / NINETY_FIVE,
    turn = e.ellipse.turn * DEG;
  for (let i = 0; i <= 96; i += 1) {
    const t = (i / 96) * 2 * Math.PI,
      a = k * e.ellipse.long * Math.cos(t),
      b = k * e.ellipse.short * Math.sin(t);
    points.push(at(e.east + a * Math.cos(turn) - b * Math.sin(turn), e.high + a * Math.sin(turn) + b * Math.cos(turn)));
  }
  return points;
}

// `shown`: { now, before, measured: [{ shape, mark, used }], good, north, turn: bool }; `say`: its words.
export function ellipseDrawing(shown, { reach, step }, say) {
  const { now, before, measured, good, north } = shown,
    sense = north ? 1 : -1,
    k = SIDE / (2 * reach);
  const at = (east, high) => point(C[0] + sense * east * k, C[1] - high * k);
  const svg = sheet(W, 646, say.title(now, good));
  const clip = el("clipPath", { id: "inside" }, el("rect", { x: LEFT, y: TOP, width: SIDE, height: SIDE })),
    inside = el("g", { "clip-path": "url(#inside)" });
  svg.append(
    el("defs", {}, clip),
    inside,
    el("rect", { x: LEFT, y: TOP, width: SIDE, height: SIDE, fill: "none", stroke: INK, "stroke-width": 1.8 }),
  );
  const count = Math.round(reach / step),
    d = ["", ""];
  for (let i = -count * 5; i <= count * 5; i += 1) {
    const v = (i * step) / 5,
      long = i % 5 === 0,
      size = long ? 15 : 7,
      [x] = at(v, 0),
      [, y] = at(0, v);
    d[long ? 1 : 0] += `M${x.toFixed(1)} ${TOP + SIDE}v${-size}M${LEFT} ${y.toFixed(1)}h${size}`;
    if (long && Math.abs(i) < count * 5) {
      svg.append(
        words(x, TOP + SIDE + 26, +Math.abs(v).toPrecision(3), 20),
        words(LEFT - 8, y + 7, +Math.abs(v).toPrecision(3), 20, { "text-anchor": "end" }),
      );
    }
  }
  svg.append(
    el("path", { d: d[0], stroke: INK, "stroke-width": 1 }),
    el("path", { d: d[1], stroke: INK, "stroke-width": 2 }),
  );
  svg.append(
    words(LEFT + 4, TOP + SIDE + 54, north ? say.WEST : say.EAST, 22, { "text-anchor": "start", "font-weight": 600 }),
    words(LEFT + SIDE - 4, TOP + SIDE + 54, north ? say.EAST : say.WEST, 22, {
      "text-anchor": "end",
      "font-weight": 600,
    }),
    words(C[0], TOP + SIDE + 54, say.SCALE, 20, { fill: FAINT, "font-style": "italic" }),
    words(LEFT + 14, TOP + 30, say.HIGH, 22, { "text-anchor": "start", "font-weight": 600 }),
    words(LEFT + 14, TOP + SIDE - 26, say.LOW, 22, { "text-anchor": "start", "font-weight": 600 }),
  );
  const r = good * k,
    near = r < SIDE / 2;
  inside.append(circle(...C, r, { "stroke-width": 1.6, "stroke-dasharray": "3 6" }));
  inside.append(line(C[0] - 13, C[1], C[0] + 13, C[1], INK, 2), line(C[0], C[1] - 13, C[0], C[1] + 13, INK, 2));
  inside.append(
    words(C[0], near ? Math.max(C[1] - r - 8, TOP + 22) : TOP + SIDE - 52, say.good(good, near), 19, {
      "font-style": "italic",
      "paint-order": "stroke",
      stroke: PAPER,
      "stroke-width": 5,
    }),
  );
  if (!now) return svg;
  if (before?.ellipse) {
    inside.append(
      el("path", {
        d: trace(outline(before, at), true),
        fill: "none",
        stroke: INK,
        "stroke-width": 1.6,
        "stroke-dasharray": "9 6",
      }),
    );
    // The word stands on the far side of the old ellipse, where the new one doesn't reach.
    const tips = outline(before, at),
      tip = tips.reduce((a, b) =>
        Math.hypot(b[0] - at(now.east, now.high)[0], b[1] - at(now.east, now.high)[1]) >
        Math.hypot(a[0] - at(now.east, now.high)[0], a[1] - at(now.east, now.high)[1])
          ? b
          : a,
      );
    inside.append(
      words(
        keptWithin(tip[0], say.BEFORE, 19, LEFT + 6, LEFT + SIDE - 6, 400, true),
        Math.min(Math.max(tip[1] - 8, TOP + 24), TOP + SIDE - 10),
        say.BEFORE,
        19,
        { "font-style": "italic", "paint-order": "stroke", stroke: PAPER, "stroke-width": 5 },
      ),
    );
  }
  measured.forEach(({ shape, used }, i) => {
    const pen = used ? INK : WARN;
    if (shape.ellipse) {
      if (measured.length > 1)
        inside.append(
          el("path", {
            d: trace(outline(shape, at, 1), true),
            fill: "none",
            stroke: pen,
            "stroke-width": 1.3,
            "stroke-dasharray": used ? null : "3 4",
          }),
        );
      const [x, y] = at(shape.east, shape.high),
        [dx, dy] = [
          [-14, -10],
          [14, 26],
          [14, -10],
          [-14, 26],
        ][i % 4];
      if (measured.length > 1)
        inside.append(
          el("circle", { cx: x, cy: y, r: 3.4, fill: pen }),
          words(x + dx, y + dy, MARKS[i % 26], 21, { "font-weight": 600, fill: pen }),
        );
    } else if (shape.line !== null) {
      const a = shape.line * DEG,
        s = 3 * reach,
        dx = Math.cos(a),
        dy = Math.sin(a);
      inside.append(
        line(
          ...at(shape.east - s * dx, shape.high - s * dy),
          ...at(shape.east + s * dx, shape.high + s * dy),
          pen,
          1.6,
          { "stroke-dasharray": "14 5" },
        ),
      );
      if (shape.sigma)
        for (const off of [-1, 1])
          inside.append(
            line(
              ...at(shape.east - s * dx - off * shape.sigma * dy, shape.high - s * dy + off * shape.sigma * dx),
              ...at(shape.east + s * dx - off * shape.sigma * dy, shape.high + s * dy + off * shape.sigma * dx),
              pen,
              0.9,
            ),
          );
    }
  });
  if (now.ellipse) {
    inside.append(
      el("path", {
        d: trace(outline(now, at), true),
        fill: INK,
        "fill-opacity": 0.14,
        stroke: INK,
        "stroke-width": 1.2,
      }),
      el("path", { d: trace(outline(now, at, Math.sqrt(-2 * Math.log(0.32))), true), fill: INK, "fill-opacity": 0.22 }),
    );
    const start = at(now.east, now.high),
      corner = at(now.east, 0);
    if (shown.turn)
      for (const [a, b, n] of /** @type {const} */ ([
        [start, corner, 1],
        [corner, C, 2],
      ]))
        if (Math.hypot(b[0] - a[0], b[1] - a[1]) > 22) {
          inside.append(arrow(...a, ...b, BRASS, 4, 18));
          const m = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
            side = n === 1 ? [start[0] > C[0] ? 18 : -18, 6] : [0, start[1] > C[1] ? -12 : 26];
          inside.append(
            words(m[0] + side[0], m[1] + side[1], n, 24, {
              fill: BRASS,
              "font-weight": 600,
              "paint-order": "stroke",
              stroke: PAPER,
              "stroke-width": 5,
            }),
          );
        }
    inside.append(el("circle", { cx: start[0], cy: start[1], r: 6, fill: PAPER, stroke: INK, "stroke-width": 2.6 }));
  }
  return svg;
}
