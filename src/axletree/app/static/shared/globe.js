// The Earth from the side with the person at its edge: why the pole's height is the latitude.

import * as say from "../words/shared.js";
import { keptWithin } from "./measure.js";
import { arrow, BRASS, circle, el, HAIR, INK, line, movable, PAPER, point, words, workbench } from "./pen.js";

const W = 600,
  C = point(286, 300),
  R = 190,
  DEG = Math.PI / 180;

// Gives { element, set(latitude) }; `moved(latitude, done)` while the person is dragged along the edge.
export function createGlobe(moved) {
  const svg = workbench(W, W, say.THE_EARTH);
  svg.append(circle(...C, R, { "stroke-width": 2.4 }));
  const grid = [];
  for (let lat = -60; lat <= 60; lat += 30) {
    const x = R * Math.cos(lat * DEG),
      y = C[1] - R * Math.sin(lat * DEG);
    grid.push(line(C[0] - x, y, C[0] + x, y, HAIR, lat === 0 ? 2 : 1));
  }
  for (const lon of [30, 60])
    grid.push(
      el("ellipse", {
        cx: C[0],
        cy: C[1],
        rx: R * Math.sin(lon * DEG),
        ry: R,
        fill: "none",
        stroke: HAIR,
        "stroke-width": 1,
      }),
    );
  grid.push(line(C[0], C[1] - R, C[0], C[1] + R, HAIR, 1));
  svg.append(
    ...grid,
    line(C[0], C[1] - R - 66, C[0], C[1] + R + 66, INK, 2, { "stroke-dasharray": "12 6" }),
    words(C[0] - 10, C[1] - R - 50, say.THE_AXIS, 18, { "text-anchor": "end", "font-style": "italic" }),
  );
  // The way it turns: eastward, seen from the side.
  svg.append(
    el("path", { d: `M${C[0] - 30} ${C[1] - R - 26}a30 9 0 0 0 60 0`, fill: "none", stroke: INK, "stroke-width": 1.6 }),
    el("path", { d: `M${C[0] + 31} ${C[1] - R - 36}l-7 11h13z`, fill: INK }),
  );
  const live = el("g", {}),
    place = el("g", {});
  svg.append(live, place);
  let latitude = 0;
  const at = (x, y, done) => {
    const a = Math.atan2(C[1] - y, Math.max(x - C[0], 0)) / DEG;
    moved(Math.max(-90, Math.min(90, Math.round(a * 10) / 10)), done);
  };
  place.append(
    el("circle", { r: 26, fill: "transparent" }),
    circle(0, 0, 11, { fill: PAPER, stroke: BRASS, "stroke-width": 4 }),
  );
  movable(place, svg, {
    move: at,
    nudge: (dx, dy) => moved(Math.max(-90, Math.min(90, latitude + (dy || dx))), true),
    label: () => say.placeAt(latitude),
  });

  function draw() {
    const f = latitude * DEG,
      sense = latitude >= 0 ? 1 : -1,
      p = point(C[0] + R * Math.cos(f), C[1] - R * Math.sin(f));
    const up = [Math.cos(f), -Math.sin(f)],
      level = [-Math.sin(f), -Math.cos(f)]; // away from the centre; towards north along the ground
    const go = (v, s, from = p) => point(from[0] + v[0] * s, from[1] + v[1] * s),
      axis = [0, -sense];
    /** @type {SVGElement[]} */
    const parts = [line(...C, ...p, INK, 1.4), line(...C, C[0] + R, C[1], INK, 1.4)];
    // Latitude at the centre, the pole's height at the place: the same angle twice.
    const arc = (centre, r, a, b) => {
      const q = (t) => [centre[0] + r * Math.cos(t), centre[1] - r * Math.sin(t)],
        [s, e] = [q(a), q(b)];
      return el("path", {
        d: `M${s[0].toFixed(1)} ${s[1].toFixed(1)}A${r} ${r} 0 0 ${b > a ? 0 : 1} ${e[0].toFixed(1)} ${e[1].toFixed(1)}`,
        fill: "none",
        stroke: INK,
        "stroke-width": 3.4,
      });
    };
    parts.push(arc(C, 58, 0, f));
    const north = Math.PI / 2 + f,
      ground = sense > 0 ? north : north - Math.PI,
      pole = sense > 0 ? Math.PI / 2 : -Math.PI / 2;
    parts.push(line(...go(level, -105), ...go(level, 105), INK, 2.2));
    const head = go(up, 46);
    // A small mount: three legs square to the ground, its axis parallel to the Earth's.
    for (const s of [-17, 0, 17]) parts.push(line(...go(level, s), ...head, INK, 2));
    parts.push(el("g", {}, arrow(...go(axis, -34, head), ...go(axis, 96, head), BRASS, 5, 18)));
    const r = 62,
      q = (t) => [head[0] + r * Math.cos(t), head[1] - r * Math.sin(t)];
    parts.push(
      line(...head, ...go([Math.cos(ground), -Math.sin(ground)], 78, head), INK, 1, { "stroke-dasharray": "4 4" }),
    );
    const [s, e] = [q(ground), q(pole)];
    parts.push(
      el("path", {
        d: `M${s[0].toFixed(1)} ${s[1].toFixed(1)}A${r} ${r} 0 0 ${sense > 0 ? 1 : 0} ${e[0].toFixed(1)} ${e[1].toFixed(1)}`,
        fill: "none",
        stroke: INK,
        "stroke-width": 3.4,
      }),
    );
    const figure = `${Math.abs(latitude).toFixed(1)}°`,
      halo = { "font-weight": 600, "paint-order": "stroke", stroke: PAPER, "stroke-width": 6 };
    parts.push(words(C[0] + 92 * Math.cos(f / 2) + 6, C[1] - 92 * Math.sin(f / 2) + 8, figure, 24, halo));
    const mid = (ground + pole) / 2,
      m = [head[0] + 96 * Math.cos(mid), head[1] - 96 * Math.sin(mid)];
    parts.push(
      words(keptWithin(m[0], figure, 24, 4, W - 4, 600), Math.min(W - 8, Math.max(24, m[1] + 8)), figure, 24, halo),
    );
    live.replaceChildren(...parts);
    place.setAttribute("transform", `translate(${p[0].toFixed(1)} ${p[1].toFixed(1)})`);
  }
  draw();
  return {
    element: svg,
    disable(off) {
      place.setAttribute("aria-disabled", String(off));
    },
    set(value) {
      latitude = value;
      draw();
      place.setAttribute("aria-label", say.arrowKeys(say.placeAt(latitude)));
    },
  };
}
