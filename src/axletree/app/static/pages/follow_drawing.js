// What do the eyepiece and the knob show: where the object drifts, and how far the hand turns?

import {
  arrow,
  around,
  BRASS,
  circle,
  el,
  HAIR,
  INK,
  line,
  PAPER,
  point,
  sheet,
  words as written,
} from "../shared/pen.js";
import * as words from "../words/follow.js";

const W = 640,
  K = point(320, 632),
  KR = 74;
export const C = point(320, 282);
export const R = 232;

// `e` is what is told of the eyepiece, `s` of the tube's side. Gives the drawing, and in `pen` what moves in it.
/** @type {(data: any, e: any, s: any) => { svg: SVGSVGElement, pen: { object: SVGElement, gone: SVGElement, turn: SVGElement, keep: number } }} */
export function drawing(data, e, s) {
  const svg = sheet(W, 724, words.SHEET);
  const keepPart = data.keep_fraction,
    keep = R * keepPart;
  svg.append(
    circle(...C, R, { "stroke-width": 2.6 }),
    circle(...C, keep, { stroke: HAIR, "stroke-dasharray": "7 6", "stroke-width": 1.6 }),
  );
  svg.append(line(C[0] - 9, C[1], C[0] + 9, C[1], INK, 1.5), line(C[0], C[1] - 9, C[0], C[1] + 9, INK, 1.5));
  const tip = around(...C, R + 20, s.view_drift_clock_deg),
    from = around(...C, R - 26, s.view_drift_clock_deg);
  svg.append(arrow(...from, ...tip, INK, 2, 16));
  const opposite = around(...C, keep + 20, s.view_drift_clock_deg + 180);
  svg.append(
    written(C[0], opposite[1] > C[1] ? C[1] + keep + 26 : C[1] - keep - 12, words.BEFORE_RING, 17, {
      fill: "var(--faint)",
      "font-style": "italic",
    }),
  );
  const object_ = el(
    "g",
    {},
    el("circle", { r: 11, fill: PAPER, stroke: INK, "stroke-width": 2 }),
    el("circle", { r: 5, fill: INK }),
  );
  const gone = written(...C, "", 22, { "font-weight": 600, dy: R - 16 });
  svg.append(object_, gone, written(C[0] - R - 4, 24, words.field(e), 19, { "text-anchor": "start" }));
  svg.append(written(C[0] + R + 4, 24, words.drifts(s.view_drift_clock_deg), 19, { "text-anchor": "end" }));
  // The knob: knurled, the turn in brass.
  const knurl = [];
  for (let a = 0; a < 360; a += 9) {
    const [x1, y1] = around(...K, KR, a),
      [x2, y2] = around(...K, KR + 8, a);
    knurl.push(`M${x1.toFixed(1)} ${y1.toFixed(1)}L${x2.toFixed(1)} ${y2.toFixed(1)}`);
  }
  const angle = e.knob_turn_deg,
    has = data.seconds_per_knob_turn_object && angle !== null && !data.motor.length;
  const turn = el("path", { fill: "none", stroke: BRASS, "stroke-width": 6 });
  if (has) {
    const sense = data.knob_clockwise ? 1 : -1,
      whole = Math.min(angle, 330),
      r = KR + 24,
      a = around(...K, r, 0),
      b = around(...K, r, sense * whole),
      t = around(...K, r, sense * (whole + 14)),
      i = around(...K, r - 13, sense * whole),
      o = around(...K, r + 13, sense * whole);
    svg.append(
      circle(...K, KR, { "stroke-width": 2 }),
      el("path", { d: knurl.join(""), stroke: INK, "stroke-width": 2 }),
    );
    turn.setAttribute(
      "d",
      `M${a[0].toFixed(1)} ${a[1].toFixed(1)}A${r} ${r} 0 ${whole > 180 ? 1 : 0} ${sense > 0 ? 1 : 0} ${b[0].toFixed(1)} ${b[1].toFixed(1)}`,
    );
    svg.append(
      turn,
      el("path", { d: `M${t}L${i}L${o}Z`, fill: BRASS }),
      written(K[0], K[1] + 4, words.knobTurn(angle), 34, {
        "font-weight": 600,
      }),
      written(K[0], K[1] + 30, words.HOUR_KNOB, 18),
    );
    // A line across stands for the ten past the hand can judge: whole, half and quarter turn.
    svg.append(
      written(K[0] + KR + 52, K[1] + 8, words.sense(data.knob_clockwise), 22, {
        "text-anchor": "start",
      }),
    );
  } else svg.append(written(K[0], K[1], data.motor.length ? words.MOTOR_FOLLOWS : words.PUSH_WEST, 24));
  return { svg, pen: { object: object_, gone, turn, keep } };
}
