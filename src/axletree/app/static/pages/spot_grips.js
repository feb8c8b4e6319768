// How is what stands in the yard drawn, and dragged by its brass handles?

import { keptWithin, widthOf } from "../shared/measure.js";
import { BRASS, circle, el, INK, movable, PAPER, trace, words } from "../shared/pen.js";
import * as say from "../words/spot.js";
import { W } from "./spot_plan.js";

const BESIDE = 16;

// `changed(done)` after every move,
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
    // Beside it, as on paper: below it lies a tree's crown as often as not.
    const draw = () => {
      const x = frame.x(p.x_m),
        inside = x + BESIDE + widthOf(p.name, 16, 400, true) < frame.x(frame.r);
      name.setAttribute("x", x + (inside ? BESIDE : -BESIDE));
      name.setAttribute("y", frame.y(p.y_m) + 5);
      name.setAttribute("text-anchor", inside ? "start" : "end");
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
      text.setAttribute("x", beside ? frame.x(x) + 18 : keptWithin(frame.x(x), name, 16, 4, W - 4, 400, true));
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
