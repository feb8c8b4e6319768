// How does a yard plan become a drawing? Metres in, an SVG out; its shapes are in spot_grips.js.

import { arrow, BRASS, circle, el, INK, line, PAPER, point, words } from "../shared/pen.js";
import * as say from "../words/spot.js";

export const W = 640;
const PAD = 34,
  TOP = 58, // above the frame stands the arrow to the north
  FOOT = 0.3048;

// The square of metres that shows the area and every obstacle near it.
export function frameOf(yard) {
  const xs = [],
    ys = [],
    put = (x, y) => {
      xs.push(x);
      ys.push(y);
    };
  for (const [x, y] of yard.area_m) put(x, y);
  const area = { l: Math.min(...xs) - 10, r: Math.max(...xs) + 10, b: Math.min(...ys) - 10, t: Math.max(...ys) + 10 };
  for (const w of yard.wall) for (const [x, y] of w.points_m) put(x, y);
  for (const r of yard.roof) for (const [x, y] of r.corners_m) put(x, y);
  for (const t of yard.tree) {
    put(t.x_m - t.crown_radius_m, t.y_m - t.crown_radius_m);
    put(t.x_m + t.crown_radius_m, t.y_m + t.crown_radius_m);
  }
  for (const p of yard.post) put(p.x_m, p.y_m);
  const l = Math.max(Math.min(...xs), area.l) - 0.6,
    r = Math.min(Math.max(...xs), area.r) + 0.6,
    b = Math.max(Math.min(...ys), area.b) - 0.6,
    t = Math.min(Math.max(...ys), area.t) + 0.6;
  const per = (W - PAD - 8) / Math.max(r - l, t - b),
    high = (t - b) * per + PAD + TOP + 4;
  return {
    l,
    r,
    b,
    t,
    per,
    high,
    x: (m) => PAD + (m - l) * per,
    y: (m) => TOP + (t - m) * per,
    mx: (x) => (x - PAD) / per + l,
    my: (y) => t - (y - TOP) / per,
  };
}

// Tint says how much a place loses against the best; rules where it can't be used.
export function heat(grid, frame) {
  const group = el("g", {}),
    flat = grid.score.flat().filter((s) => s >= 0),
    best = Math.max(...flat, 0),
    worst = Math.max(Math.min(...flat, best), best / 2),
    bands = 8;
  const band = (s) =>
    s < 0 ? s : best - worst < 1 ? 0 : Math.min(bands - 1, Math.floor(((best - s) / (best - worst)) * bands));
  const paths = new Map(),
    half = grid.spacing_m / 2,
    size = grid.spacing_m * frame.per;
  grid.y_m.forEach((y, row) => {
    let start = 0;
    for (let c = 1; c <= grid.x_m.length; c += 1) {
      const kind = band(grid.score[row][start]);
      if (c < grid.x_m.length && band(grid.score[row][c]) === kind) continue;
      const x = frame.x(grid.x_m[start] - half),
        top = frame.y(y + half),
        wide = (c - start) * size;
      if (kind === -1) {
        for (let k = 0; k < size; k += 5)
          if (Math.floor((top + k) / 5) % 2 === 0)
            paths.set(
              "rule",
              `${paths.get("rule") ?? ""}M${x.toFixed(1)} ${(Math.floor((top + k) / 5) * 5).toFixed(1)}h${wide.toFixed(1)}`,
            );
      } else if (kind > 0)
        paths.set(
          kind,
          `${paths.get(kind) ?? ""}M${x.toFixed(1)} ${top.toFixed(1)}h${wide.toFixed(1)}v${(size + 0.4).toFixed(1)}h${(-wide).toFixed(1)}Z`,
        );
      start = c;
    }
  });
  for (const [kind, d] of paths)
    group.append(
      kind === "rule"
        ? el("path", { d, stroke: INK, "stroke-width": 0.8 })
        : el("path", { d, fill: INK, opacity: (0.42 * kind) / bands }),
    );
  return group;
}

// Rulers along the lower and the left edge.
export function rulers(frame, units) {
  const group = el("g", { "aria-hidden": "true" }),
    unit = units === "us" ? FOOT : 1,
    span = Math.max(frame.r - frame.l, frame.t - frame.b) / unit;
  const every = [1, 2, 5, 10, 20, 50, 100].find((s) => span / s <= 10) ?? 500,
    bottom = frame.y(frame.b),
    left = frame.x(frame.l);
  group.append(
    el("rect", {
      x: left,
      y: frame.y(frame.t),
      width: frame.x(frame.r) - left,
      height: bottom - frame.y(frame.t),
      fill: "none",
      stroke: INK,
      "stroke-width": 1.4,
    }),
  );
  for (let k = Math.ceil(frame.l / unit); k * unit <= frame.r; k += 1) {
    group.append(line(frame.x(k * unit), bottom, frame.x(k * unit), bottom + (k % every ? 4 : 9), INK, 1));
    if (k % every === 0) group.append(words(frame.x(k * unit), bottom + 25, k, 15));
  }
  for (let k = Math.ceil(frame.b / unit); k * unit <= frame.t; k += 1) {
    group.append(line(left, frame.y(k * unit), left - (k % every ? 4 : 9), frame.y(k * unit), INK, 1));
    if (k % every === 0) group.append(words(left - 12, frame.y(k * unit) + 5, k, 15, { "text-anchor": "end" }));
  }
  return group;
}

export function northArrow(frame, turnDeg, at = point(frame.x(frame.r) - 24, TOP / 2)) {
  const a = (-turnDeg * Math.PI) / 180,
    s = Math.sin(a),
    c = Math.cos(a);
  return el(
    "g",
    {},
    arrow(at[0] - 20 * s, at[1] + 20 * c, at[0] + 20 * s, at[1] - 20 * c, INK, 2, 13),
    words(at[0] - 26, at[1] + 6, say.NORTH, 16, { "text-anchor": "end" }),
  );
}

export function tripodMark(x, y, stroke = BRASS) {
  return el(
    "g",
    { transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})` },
    circle(0, 0, 22, { fill: PAPER, stroke, "stroke-width": 3, opacity: 0.95 }),
    ...[0, 120, 240].map((a) =>
      line(0, 0, 17 * Math.sin((a * Math.PI) / 180), -17 * Math.cos((a * Math.PI) / 180), stroke, 4),
    ),
    circle(0, 0, 4, { fill: stroke, stroke }),
  );
}
