// Where does the pole star go, as the clock runs? The view along the axis on a clock face.

import { around, BRASS, circle, el, HAIR, INK, line, PAPER, path, point, sheet, words } from "./pen.js";
import { turned } from "./clock.js";
import { linesAt, setNames, squareAbout, timeMark } from "./round.js";
import { dialTitle } from "./field_words.js";
import { clock } from "./words.js";

const W = 640,
  C = point(320, 326),
  R = 250,
  HALF_PI = Math.PI / 2;

// `view`: the pole view of the tables; `night`: for the star's place and the sky's turn at a moment.
// `whole`: all of the field with its stars, to recognise it; else its middle, to set the axis by.
export function makeDial(view, night, zone, whole = false) {
  const reach = Math.max(...view.ring.map((p) => Math.hypot(...p)), view.engraved_ring_arcmin ?? 0),
    half = whole ? view.field_deg * 30 : reach / 0.68,
    k = R / half;
  const spot = ([x, y]) => point(C[0] + x * k, C[1] - y * k);
  const svg = sheet(W, 652, dialTitle(view, whole));
  const ticks = ["", ""];
  svg.append(circle(...C, R, { "stroke-width": 2.4 }));
  for (let i = 0; i < 72; i += 1) {
    const whole = i % 6 === 0,
      a = around(...C, R, i * 5),
      b = around(...C, R + (whole ? 18 : i % 3 === 0 ? 12 : 7), i * 5);
    ticks[whole ? 1 : 0] += `M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}`;
    if (whole) {
      const [x, y] = around(...C, R + 44, i * 5);
      svg.append(words(x, y + 11, i / 6 || 12, 32, { "font-weight": 600 }));
    }
  }
  svg.append(
    el("path", { d: ticks[0], stroke: INK, "stroke-width": 1.2 }),
    el("path", { d: ticks[1], stroke: INK, "stroke-width": 3.4 }),
  );
  const sky = el("g", {}),
    inside = (p) => Math.hypot(...p) < half * 0.98;
  for (const [a, b] of view.figure) if (inside(a) && inside(b)) sky.append(line(...spot(a), ...spot(b), HAIR, 1.6));
  for (const [x, y, magnitude] of view.stars)
    if (inside([x, y]))
      sky.append(
        el("circle", { cx: spot([x, y])[0], cy: spot([x, y])[1], r: Math.max(7 - 0.72 * magnitude, 1.3), fill: INK }),
      );
  svg.append(sky, path(view.ring.map(spot), { stroke: INK, "stroke-width": 2 }));
  if (view.engraved_ring_arcmin)
    svg.append(circle(...C, view.engraved_ring_arcmin * k, { "stroke-dasharray": "3 7", "stroke-width": 1.6 }));
  svg.append(line(C[0] - 18, C[1], C[0] + 18, C[1], INK, 2.2), line(C[0], C[1] - 18, C[0], C[1] + 18, INK, 2.2));
  const labels = view.stars
    .filter(([x, y, , called]) => whole && called && inside([x, y]))
    .map(([x, y, , called]) => {
      const text = words(0, 0, called, 22, { "text-anchor": "start" });
      svg.append(text);
      return { at: [x, y], text, lines: linesAt(view.figure, x, y) };
    });
  const hand = line(...C, ...C, INK, 1.6, { "stroke-dasharray": "2 7" }),
    later = el("g", {});
  const star = el(
    "g",
    {},
    el("circle", { r: whole ? 16 : 24, fill: PAPER, stroke: BRASS, "stroke-width": whole ? 4 : 5 }),
    el("circle", { r: whole ? 8 : 12, fill: INK }),
  );
  svg.append(hand, later, star);
  const marks = whole ? [] : [timeMark(later, 8, 21), timeMark(later, 8, 21)];

  function move(at) {
    const now = night.poleStar(at),
      turn = night.poleTurnDeg(at),
      p = spot([now.right, now.up]);
    sky.setAttribute("transform", `rotate(${turn.toFixed(3)} ${C[0]} ${C[1]})`);
    star.setAttribute("transform", `translate(${p[0].toFixed(2)} ${p[1].toFixed(2)})`);
    hand.setAttribute("x2", p[0].toFixed(1));
    hand.setAttribute("y2", p[1].toFixed(1));
    for (const [k, mark] of marks.entries()) {
      const then = at + (k + 1) * 3600,
        q = night.poleStar(then),
        [x, y] = spot([q.right, q.up]),
        part = 1 + 42 / Math.hypot(x - C[0], y - C[1]);
      const beside = [C[0] + (x - C[0]) * part, C[1] + (y - C[1]) * part + 7];
      mark([x, y], beside, clock(new Date(then * 1000), zone));
    }
    setNames(labels, spot, turn, C, R, [squareAbout(p, 24)]);
  }
  return { element: svg, move };
}

// A figure for the naked eye, turned to this moment: 'the Big Dipper lies towards 1 o'clock'.
export function guideHour(guide, night, at) {
  const a = (guide.clock_hour * Math.PI) / 6,
    [x, y] = turned(Math.sin(a), Math.cos(a), night.poleTurnDeg(at));
  return ((((HALF_PI - Math.atan2(y, x)) / (Math.PI / 6)) % 12) + 12) % 12 || 12;
}
