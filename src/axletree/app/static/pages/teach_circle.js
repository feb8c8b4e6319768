// Where is the star in the eyepiece's circle, the axis still or turning?

import { BRASS, circle, FAINT, HAIR, line, point, sheet, words } from "../shared/pen.js";
import { HALO } from "./teach_globe.js";
import * as say from "../words/teach.js";

const S = 380,
  C = S / 2,
  R = 150;

// How far the star has gone from the middle, in radii of the field; `leavesS` from middle to edge.
/** @type {(seconds: number, leavesS: number, follows: boolean) => number} */
export const gone = (seconds, leavesS, follows) => (follows ? 0 : seconds / leavesS);

export function eyepieceCircle(data, { seconds, follows, type = 1 }) {
  const away = gone(seconds, data.eyepiece.leaves_s, follows),
    x = C - away * R;
  const svg = sheet(S, S + 14 + 20 * type, say.circleOf(follows));
  svg.append(
    circle(C, C, R, { "stroke-width": 3 }),
    line(C - 10, C, C + 10, C, HAIR, 1.4),
    line(C, C - 10, C, C + 10, HAIR, 1.4),
  );
  if (away > 0 && away <= 1) svg.append(line(C, C, x, C, FAINT, 1.6, { "stroke-dasharray": "3 5" }));
  if (away <= 1)
    svg.append(
      circle(...point(x, C), 9, { fill: BRASS, stroke: BRASS }),
      words(x, C - 10 - 10 * type, data.star.name, 20 * type, { "font-weight": 600, ...HALO }),
    );
  else svg.append(words(C, C - 16 - 10 * type, say.isGone(data.star.name), 19 * type, { "font-weight": 600, ...HALO }));
  svg.append(
    words(C - R + 12, C + 20 + 20 * type, say.WEST, 18 * type, { "text-anchor": "start", fill: FAINT, ...HALO }),
    words(C, S + 2 + 20 * type, say.axisIs(follows), 20 * type, { "font-weight": 600 }),
  );
  return svg;
}
