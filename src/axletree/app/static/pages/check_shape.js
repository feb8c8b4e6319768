// How does the ellipse go from what was known before to what is known now? The old one stays dashed.

import { put, still } from "../shared/page.js";
import { between, ellipseDrawing, reachOf, shapeOf } from "../shared/ellipse.js";
import * as say from "../words/check.js";

let data = null,
  before = null,
  drawn = null,
  moving = 0;

export function transition(answer, shape) {
  data = answer;
  const key = JSON.stringify(shape);
  if (key === drawn?.key) {
    draw(drawn.shape, 1);
    return;
  }
  before = drawn?.shape && shape ? drawn.shape : null;
  drawn = { key, shape };
  cancelAnimationFrame(moving);
  if (!before?.ellipse || !shape?.ellipse || still.matches) {
    draw(shape, 1);
    return;
  }
  const began = performance.now(),
    step = (t) => {
      const part = Math.min((t - began) / 900, 1),
        eased = part * part * (3 - 2 * part);
      draw(between(before, shape, eased), eased);
      if (part < 1) moving = requestAnimationFrame(step);
    };
  moving = requestAnimationFrame(step);
}
function draw(shape, part) {
  const good = data.good_enough_arcmin,
    measured = (data.measurements ?? []).map((m) => ({ shape: shapeOf(m), used: !m.left_out }));
  const scale = shape
    ? reachOf([shape, before?.ellipse ? before : shape], good)
    : { reach: Math.ceil(good * 1.3), step: [1, 2, 5, 10, 20, 50].find((s) => s >= good * 0.26) ?? 100 };
  if (!shape) scale.reach = Math.ceil(scale.reach / scale.step) * scale.step;
  put(
    "#drawing",
    ellipseDrawing(
      {
        now: shape,
        before,
        measured: part < 1 ? [] : measured,
        good,
        north: data.north,
        turn: part >= 1 && data.bolts_to_turn === true,
      },
      scale,
      say.sheet,
    ),
  );
}
// What comes next is another turn of the axis: nothing goes over from the one before.
export function forget() {
  drawn = null;
  before = null;
}
