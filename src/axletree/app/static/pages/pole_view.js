// What is seen in the polar scope? The sky turns about the middle, the pole star runs on its circle.

import { now, page, put } from "../shared/page.js";
import { around, BRASS, circle, el, HAIR, INK, line, PAPER, path, point, sheet, words } from "../shared/pen.js";
import { onRing } from "../shared/clock.js";
import { linesAt, rimWords, setAlongRim, setNames, squareAbout, timeMark } from "../shared/round.js";
import { typefaceHere } from "../shared/measure.js";
import { clock } from "../shared/words.js";
import * as told from "../words/pole.js";

const W = 640,
  C = point(320, 330),
  R = 252;
const CLEAR = { "paint-order": "stroke", stroke: PAPER, "stroke-width": 5 }; // paper around letters
let pen = null,
  last = null;
// Type that a small screen makes larger (readable.js, in the next frame) is set anew after that, and
// all when the typeface has come.
const again = () => requestAnimationFrame(() => requestAnimationFrame(() => last && move(last.star, last.seconds)));
const resized = new ResizeObserver(again);
typefaceHere.then(again);

// `extent` is "field" where all that the polar scope shows is wanted, else the circle's own size.
export function build(data, extent) {
  const view = data.picture,
    field = extent === "field",
    half = field ? view.field_deg * 30 : Math.max(...view.ring.map((p) => Math.hypot(...p))) / 0.66,
    k = R / half;
  const spot = (p) => point(C[0] + p[0] * k, C[1] - p[1] * k);
  const svg = sheet(W, 660, told.sheet(data.star));
  svg.append(circle(...C, R, { "stroke-width": 2.4 }));
  const d = ["", ""];
  for (let i = 0; i < 72; i += 1) {
    const whole = i % 6 === 0,
      [a, b] = around(...C, R, i * 5),
      [x, y] = around(...C, R + (whole ? 17 : i % 3 === 0 ? 12 : 7), i * 5);
    d[whole ? 1 : 0] += `M${a.toFixed(1)} ${b.toFixed(1)}L${x.toFixed(1)} ${y.toFixed(1)}`;
    if (whole) {
      const [lx, ly] = around(...C, R + 40, i * 5);
      svg.append(words(lx, ly + 9, i / 6 || 12, 26, { "font-weight": 600 }));
    }
  }
  svg.append(
    el("path", { d: d[0], stroke: INK, "stroke-width": 1 }),
    el("path", { d: d[1], stroke: INK, "stroke-width": 3 }),
  );
  const sky = el("g", {}),
    inside = (p) => Math.hypot(...p) < half * 0.985;
  for (const [a, b] of view.figure) if (inside(a) && inside(b)) sky.append(line(...spot(a), ...spot(b), HAIR, 1.6));
  const stars = view.stars.filter((s) => inside([s.right_arcmin, s.up_arcmin]));
  for (const s of stars)
    sky.append(
      el("circle", {
        cx: spot([s.right_arcmin, s.up_arcmin])[0],
        cy: spot([s.right_arcmin, s.up_arcmin])[1],
        r: Math.max(6.4 - 0.66 * s.magnitude_v, 1.2),
        fill: INK,
      }),
    );
  svg.append(sky, path(view.ring.map(spot), { stroke: INK, "stroke-width": 1.6 }));
  if (view.engraved_ring_arcmin && view.engraved_ring_arcmin < half)
    svg.append(circle(...C, view.engraved_ring_arcmin * k, { "stroke-dasharray": "3 6" }));
  const labels = stars
    .filter((s) => s.name)
    .map((s) => {
      const text = words(0, 0, s.name, 17, { "text-anchor": "start", ...CLEAR });
      svg.append(text);
      return { at: [s.right_arcmin, s.up_arcmin], text, lines: linesAt(view.figure, s.right_arcmin, s.up_arcmin) };
    });
  svg.append(line(C[0] - 16, C[1], C[0] + 16, C[1], INK, 2), line(C[0], C[1] - 16, C[0], C[1] + 16, INK, 2));
  const guides = view.guides.map((g) => {
    const group = rimWords(told.onRim(g), 18, { "font-style": "italic", ...CLEAR });
    svg.append(group);
    return { g, group };
  });
  const hours = el("g", {}),
    hand = line(...C, ...C, INK, 1.4, { "stroke-dasharray": "2 6" });
  const now_ = el(
    "g",
    {},
    el("circle", { r: field ? 15 : 21, fill: PAPER, stroke: BRASS, "stroke-width": 4 }),
    el("circle", { r: field ? 7 : 11, fill: INK }),
  );
  svg.append(hand, hours, now_);
  put("#drawing", svg);
  resized.disconnect();
  resized.observe(svg);
  const marks = field ? [] : [timeMark(hours, 7, 18), timeMark(hours, 7, 18)];
  pen = { spot, view, sky, now: now_, hand, marks, labels, guides };
}

// The sky turns about the middle; what was drawn at the answer's moment turns with it.
export function move(star, seconds) {
  if (!pen) return;
  last = { star, seconds };
  const turn = (pen.view.turn_deg_per_h * seconds) / 3600;
  pen.sky.setAttribute("transform", `rotate(${turn.toFixed(3)} ${C[0]} ${C[1]})`);
  const p = pen.spot([star.right, star.up]);
  setNames(pen.labels, pen.spot, turn, C, R, [squareAbout(p, 22), squareAbout(C, 18)]);
  for (const { g, group } of pen.guides) setAlongRim(group, C, R, (g.clock_hour + turn / 30 + 12) % 12);
  pen.now.setAttribute("transform", `translate(${p[0].toFixed(2)} ${p[1].toFixed(2)})`);
  pen.hand.setAttribute("x2", p[0].toFixed(1));
  pen.hand.setAttribute("y2", p[1].toFixed(1));
  for (const [k, mark] of pen.marks.entries()) {
    const h = k + 1,
      [x, y] = pen.spot(onRing(pen.view.ring, seconds + h * 3600)),
      l = 1 + 30 / (Math.hypot(x - C[0], y - C[1]) || 1);
    const beside = [C[0] + (x - C[0]) * l, C[1] + (y - C[1]) * l + 6];
    mark([x, y], beside, clock(new Date(now().getTime() + h * 3600000), page.zone));
  }
}
