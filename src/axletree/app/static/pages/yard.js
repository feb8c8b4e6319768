// How does a yard plan become a drawing that can be dragged? Metres in, an SVG out.

import { arrow, BRASS, circle, el, INK, line, movable, PAPER, point, trace, words } from "../shared/pen.js";
import * as say from "../words/spot.js";

export const W = 640;
const PAD = 34,
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
    high = (t - b) * per + PAD + 30;
  return {
    l,
    r,
    b,
    t,
    per,
    high,
    x: (m) => PAD + (m - l) * per,
    y: (m) => 26 + (t - m) * per,
    mx: (x) => (x - PAD) / per + l,
    my: (y) => t - (y - 26) / per,
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

export function northArrow(frame, turnDeg, at = point(frame.x(frame.r) - 26, frame.y(frame.t) + 34)) {
  const a = (-turnDeg * Math.PI) / 180,
    s = Math.sin(a),
    c = Math.cos(a);
  return el(
    "g",
    {},
    circle(...at, 24, { fill: PAPER, stroke: "none", opacity: 0.85 }),
    arrow(at[0] - 20 * s, at[1] + 20 * c, at[0] + 20 * s, at[1] - 20 * c, INK, 2, 13),
    words(at[0], at[1] + 38, say.NORTH, 14, { "paint-order": "stroke", stroke: PAPER, "stroke-width": 4 }),
  );
}

// Everything that stands in the yard, with brass handles. `changed(done)` after every move,
// `choose({kind, index})` when one is taken up.
export function shapes(svg, yard, frame, { changed, choose, chosen, units }) {
  const group = el("g", {});
  const mine = (kind, index) => chosen && chosen.kind === kind && chosen.index === index;
  function handle(get, put, name, pick, corner = null) {
    const [x, y] = get(),
      size = 8;
    const mark =
      corner !== null
        ? el("rect", {
            x: -size,
            y: -size,
            width: 2 * size,
            height: 2 * size,
            fill: PAPER,
            stroke: BRASS,
            "stroke-width": 3,
          })
        : circle(0, 0, size + 1, { fill: PAPER, stroke: BRASS, "stroke-width": 3 });
    const grip = el(
      "g",
      { transform: `translate(${frame.x(x).toFixed(1)} ${frame.y(y).toFixed(1)})` },
      el("circle", { r: 20, fill: "transparent" }),
      mark,
    );
    const to = (mx, my, done) => {
      put(Math.round(mx * 20) / 20, Math.round(my * 20) / 20);
      const [nx, ny] = get();
      grip.setAttribute("transform", `translate(${frame.x(nx).toFixed(1)} ${frame.y(ny).toFixed(1)})`);
      redraw();
      changed(done);
    };
    movable(grip, svg, {
      move: (px, py, done) => to(frame.mx(px), frame.my(py), done),
      nudge: (dx, dy) => {
        const [ox, oy] = get();
        to(ox + dx * 0.1, oy + dy * 0.1, true);
      },
      label: () => {
        const [ox, oy] = get();
        return say.grip(name, ox, oy, units);
      },
    });
    grip.dataset.of = `${pick.kind} ${pick.index}`;
    grip.dataset.grip = `${grip.dataset.of} ${corner ?? "whole"}`;
    grip.addEventListener("focus", () => choose(pick));
    return grip;
  }
  const handles = el("g", {}),
    lines = el("g", {});
  const outline = (points, closed, more) => {
    const p = el("path", { fill: "none", "stroke-linejoin": "round", ...more });
    const draw = () =>
      p.setAttribute(
        "d",
        trace(
          points().map(([x, y]) => [frame.x(x), frame.y(y)]),
          closed,
        ),
      );
    draw();
    redraws.push(draw);
    lines.append(p);
    return p;
  };
  const redraws = [],
    redraw = () => {
      for (const fn of redraws) fn();
    };
  const corners = (points, name, pick) =>
    handles.append(
      ...points.map((_, i) =>
        handle(
          () => points[i],
          (x, y) => {
            points[i] = [x, y];
          },
          say.corner(name, i + 1),
          pick,
          i,
        ),
      ),
    );

  outline(() => yard.area_m, true, { stroke: BRASS, "stroke-width": 2, "stroke-dasharray": "9 5" });
  corners(yard.area_m, say.AREA, { kind: "area", index: 0 });
  yard.keep_out_m.forEach((points, i) => {
    outline(() => points, true, { stroke: BRASS, "stroke-width": 1.6, "stroke-dasharray": "2 5" });
    if (mine("keep_out", i)) corners(points, say.FREE, { kind: "keep_out", index: i });
    else middle(points, say.KEPT_FREE, { kind: "keep_out", index: i });
  });
  yard.roof.forEach((r, i) => {
    outline(() => r.corners_m, true, { stroke: INK, "stroke-width": mine("roof", i) ? 4 : 2.4, fill: PAPER });
    if (mine("roof", i)) corners(r.corners_m, r.name, { kind: "roof", index: i });
    else middle(r.corners_m, r.name, { kind: "roof", index: i });
  });
  yard.wall.forEach((w, i) => {
    outline(() => w.points_m, false, { stroke: INK, "stroke-width": mine("wall", i) ? 8 : 5 });
    if (mine("wall", i)) corners(w.points_m, w.name, { kind: "wall", index: i });
    else middle(w.points_m, w.name, { kind: "wall", index: i });
  });
  yard.tree.forEach((t, i) => {
    const crown = circle(0, 0, t.crown_radius_m * frame.per, {
        "stroke-width": mine("tree", i) ? 3 : 1.6,
        "stroke-dasharray": "6 4",
      }),
      name = words(0, 0, t.name, 16, {
        "font-style": "italic",
        "paint-order": "stroke",
        stroke: PAPER,
        "stroke-width": 4,
      });
    const draw = () => {
      crown.setAttribute("cx", frame.x(t.x_m));
      crown.setAttribute("cy", frame.y(t.y_m));
      name.setAttribute("x", frame.x(t.x_m));
      name.setAttribute("y", frame.y(t.y_m) + 28);
    };
    draw();
    redraws.push(draw);
    lines.append(crown, name);
    handles.append(
      handle(
        () => [t.x_m, t.y_m],
        (x, y) => {
          t.x_m = x;
          t.y_m = y;
        },
        t.name,
        { kind: "tree", index: i },
      ),
    );
  });
  yard.post.forEach((p, i) => {
    const name = words(0, 0, p.name, 16, {
      "font-style": "italic",
      "paint-order": "stroke",
      stroke: PAPER,
      "stroke-width": 4,
    });
    const draw = () => {
      name.setAttribute("x", frame.x(p.x_m));
      name.setAttribute("y", frame.y(p.y_m) + 28);
    };
    draw();
    redraws.push(draw);
    lines.append(name);
    handles.append(
      handle(
        () => [p.x_m, p.y_m],
        (x, y) => {
          p.x_m = x;
          p.y_m = y;
        },
        p.name,
        { kind: "post", index: i },
      ),
    );
  });
  // A shape of several corners is moved as a whole by its middle until it is chosen.
  function middle(points, name, pick) {
    const at = () => {
      const n = points.length;
      return [points.reduce((s, p) => s + p[0], 0) / n, points.reduce((s, p) => s + p[1], 0) / n];
    };
    const text = words(0, 0, name, 16, {
      "font-style": "italic",
      "paint-order": "stroke",
      stroke: PAPER,
      "stroke-width": 4,
    });
    const beside =
      pick.kind === "wall" && Math.abs(points[0][0] - points.at(-1)[0]) < Math.abs(points[0][1] - points.at(-1)[1]);
    if (beside) text.setAttribute("text-anchor", "start");
    const draw = () => {
      const [x, y] = at();
      text.setAttribute("x", beside ? frame.x(x) + 18 : Math.min(W - 60, Math.max(70, frame.x(x))));
      text.setAttribute("y", frame.y(y) + (beside ? 6 : 29));
    };
    draw();
    redraws.push(draw);
    lines.append(text);
    handles.append(
      handle(
        at,
        (x, y) => {
          const [ox, oy] = at();
          points.forEach((p, i) => {
            points[i] = [Math.round((p[0] + x - ox) * 100) / 100, Math.round((p[1] + y - oy) * 100) / 100];
          });
        },
        name,
        pick,
      ),
    );
  }
  group.append(lines, handles);
  return group;
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
