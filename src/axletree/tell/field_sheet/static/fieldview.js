// What does the eye meet in finder and eyepiece at this moment? A small round drawing that turns.

import { around, BRASS, circle, el, INK, line, PAPER, path, point, sheet, words } from "./pen.js";
import { turned } from "./clock.js";
import { discRadius, drawDisc, inset, isSmall } from "./fielddisc.js";
import { fieldTitle, NORTH_MARK } from "./field_words.js";

const SIZE = 200,
  C = point(100, 100),
  R = 78,
  RING = 9,
  DEG = Math.PI / 180;
const FAINTEST_DOT = 1.5,
  DOT_A_MAG = 0.95,
  LARGEST_DOT = 7.5;

// The angle at an object between the zenith and the elevated north, clockwise from the zenith.
/** @type {(hourAngleH: number, declinationDeg: number, latitudeDeg: number) => number} */
export function northFromZenith(hourAngleH, declinationDeg, latitudeDeg) {
  const H = hourAngleH * 15 * DEG,
    d = declinationDeg * DEG,
    f = latitudeDeg * DEG;
  return (
    Math.atan2(Math.sin(H) * Math.cos(f), Math.sin(f) * Math.cos(d) - Math.cos(f) * Math.sin(d) * Math.cos(H)) / DEG
  );
}

// `view` as the document has it for the stop's begin; `northDeg` where north is now; `body` what Moon or
// planet shows (null: it is none).
export function fieldView(view, northDeg, body = null) {
  const svg = sheet(SIZE, SIZE, fieldTitle(view, northDeg)),
    turn = northDeg - view.north_deg;
  const spot = (x, y) => {
    const [right, up] = turned(x, y, turn);
    return point(C[0] + right * R, C[1] - up * R);
  };
  svg.append(circle(...C, R, { "stroke-width": 2 }));
  for (const [x, y, magnitude] of [...view.stars].reverse()) {
    const r = Math.min(FAINTEST_DOT + DOT_A_MAG * Math.max(view.limit_mag - magnitude, 0), LARGEST_DOT),
      inside = Math.min(1, (R - r - 1.5) / Math.max(R * Math.hypot(x, y), 1e-9)),
      [cx, cy] = spot(x * inside, y * inside);
    svg.append(el("circle", { cx, cy, r, fill: INK, stroke: PAPER, "stroke-width": 0.8 }));
  }
  const drift = view.drift_deg + turn,
    r = discRadius(view, body, R);
  if (r) {
    const [px, py] = spot(...view.outline.slice(0, 2));
    svg.append(drawDisc(view, body, northDeg, point(px, py), r, R - Math.hypot(px - C[0], py - C[1])));
    if (isSmall(view, r)) svg.append(inset(view, body, northDeg, drift, SIZE));
  } else svg.append(outline(view, spot));
  const [x, y] = around(...C, R + 14, northDeg);
  svg.append(
    line(...around(...C, R - 8, northDeg), ...around(...C, R + 5, northDeg), INK, 2.6),
    words(x, y + 6.3, NORTH_MARK, 18, { "font-weight": 600 }),
    el("path", {
      d: `M${around(...C, R + 15, drift)}L${around(...C, R + 3, drift + 5)}L${around(...C, R + 3, drift - 5)}Z`,
      fill: BRASS,
    }),
  );
  return svg;
}

// The object's outline at its true size, or a broken ring where that would be too small.
function outline(view, spot) {
  const [x, y, long, short, lies] = view.outline ?? [0, 0, 0, 0, null];
  if (long * R <= RING || long >= 1) {
    const [cx, cy] = spot(x, y);
    return circle(cx, cy, RING, { stroke: BRASS, "stroke-width": 1.8, "stroke-dasharray": "3.5 3.5" });
  }
  const a = (lies ?? 0) * DEG,
    points = Array.from({ length: 73 }, (_, i) => {
      const along = long * Math.cos(i * 5 * DEG),
        across = short * Math.sin(i * 5 * DEG);
      return spot(x + along * Math.sin(a) + across * Math.cos(a), y + along * Math.cos(a) - across * Math.sin(a));
    });
  return path(points, { stroke: BRASS, "stroke-width": 1.8 });
}

// Where north is in a view at a place: an eyepiece's from the tables; a finder's follows the zenith,
// as long as the head is held up by it (next to the zenith it isn't, and the begin's drawing stays).
export function northNow(view, { eye, place, begin, latitudeDeg }) {
  if (view.instrument === "eyepiece") return eye.northDeg;
  const q = (p) => northFromZenith(p.hourAngleH, p.declinationDeg, latitudeDeg),
    sense = view.mirrored ? -1 : 1,
    aside = view.north_deg - sense * q(begin),
    off = Math.abs(aside - 180 * Math.round(aside / 180));
  return off < 1 ? view.north_deg + sense * (q(place) - q(begin)) : view.north_deg;
}
