// Where in the sky does the evening go? The skyline as a strip, the stops on it in their order, and
// the tube's way from one to the next.

import { page } from "../shared/page.js";
import { BRASS, circle, el, FAINT, HAIR, INK, line, PAPER, path, sheet, words } from "../shared/pen.js";
import { wrap180 } from "../shared/clock.js";
import { clock } from "../shared/words.js";
import * as say from "../words/evening.js";

const TOP = 18,
  EDGE = 12,
  SIZE = 17,
  LABEL = 15;
const narrow = matchMedia("(max-width: 600px)");

// `stops` to come in their order; `hand` is the key of the one in hand; `choose` takes a key.
/** @type {(data: any, given: { stops: any[], gone: number, hand: string, choose: (key: string) => void }) => Node | string} */
export function strip(data, { stops, gone, hand, choose }) {
  if (!stops.length) return "";
  const wide = narrow.matches ? 356 : 720,
    base = narrow.matches ? 176 : 242,
    high = base + 32;
  // The middle of the strip is where most of the evening stands.
  const sum = (f) => stops.reduce((t, s) => t + f((s.start.azimuth_deg * Math.PI) / 180), 0),
    middle = (Math.atan2(sum(Math.sin), sum(Math.cos)) * 180) / Math.PI;
  const x = (azimuth) => wide / 2 + (wrap180(azimuth - middle) / 180) * (wide / 2 - EDGE),
    y = (altitude) => base - (Math.min(Math.max(altitude, 0), 90) / 90) * (base - TOP);
  const svg = sheet(wide, high, say.stripOf(stops, gone));
  for (const altitude of [30, 60])
    svg.append(
      line(EDGE, y(altitude), wide - EDGE, y(altitude), HAIR, 0.8),
      words(EDGE, y(altitude) - 4, say.high(altitude), LABEL, { fill: FAINT, "text-anchor": "start" }),
    );
  const ground = data.strip.skyline_deg
    .map(([azimuth, altitude]) => [x(azimuth), y(altitude)])
    .sort((a, b) => a[0] - b[0]);
  svg.append(
    path(
      [[EDGE, base], [EDGE, ground[0][1]], ...ground, [wide - EDGE, ground[ground.length - 1][1]], [wide - EDGE, base]],
      {
        fill: "var(--wash)",
        "stroke-width": 1.6,
      },
    ),
    line(EDGE, base, wide - EDGE, base, INK, 1.6),
  );
  for (const [azimuth, name] of say.QUARTERS)
    if (Math.abs(wrap180(azimuth - middle)) < 166)
      svg.append(
        line(x(azimuth), base, x(azimuth), base + 7, INK, 1.4),
        words(x(azimuth), base + 24, name, LABEL + 1, { fill: FAINT }),
      );
  // A way that leaves at one end of the strip comes in at the other.
  const known = new Map(data.stops.map((s, i) => [s.catalogue_id, i]));
  for (const s of stops.slice(0, -1))
    for (const part of pieces(data.strip.ways_deg[known.get(s.catalogue_id)] ?? [], middle))
      svg.append(
        path(
          part.map(([azimuth, altitude]) => [x(azimuth), y(altitude)]),
          { stroke: BRASS, "stroke-width": 2, "stroke-dasharray": "1 5", "stroke-linecap": "round" },
        ),
      );
  const places = apart(
    stops.map((s) => [x(s.start.azimuth_deg), y(s.start.altitude_deg)]),
    wide,
    base,
  );
  stops.forEach((s, i) => {
    const [cx, cy] = places[i],
      own = s.catalogue_id === hand;
    svg.append(
      el(
        "g",
        { class: "stop-mark", onclick: () => choose(s.catalogue_id) },
        circle(cx, cy, SIZE / 2 + 4, { fill: own ? INK : PAPER, "stroke-width": 1.8 }),
        words(cx, cy + SIZE * 0.33, gone + i + 1, SIZE, { "font-weight": 600, fill: own ? PAPER : INK }),
        el("title", {}, `${s.name}, ${clock(new Date(s.begin), page.zone)}`),
      ),
    );
  });
  return svg;
}
function pieces(way, middle) {
  const all = [[]];
  let last = null;
  for (const point of way) {
    const off = wrap180(point[0] - middle);
    if (last !== null && Math.abs(off - last) > 180) all.push([]);
    all[all.length - 1].push(point);
    last = off;
  }
  return all.filter((part) => part.length > 1);
}
// Marks that would cover one another step aside, the later from the earlier.
function apart(places, wide, base) {
  const kept = [];
  for (const [x0, y0] of places) {
    let best = [x0, y0];
    for (let k = 0; k < 40; k += 1) {
      const far = 7 * Math.ceil(k / 8),
        turned = (k % 8) * (Math.PI / 4);
      const tried = [x0 + far * Math.cos(turned), y0 + far * Math.sin(turned)];
      best = tried;
      if (kept.every(([a, b]) => Math.hypot(a - tried[0], b - tried[1]) > SIZE + 10)) break;
    }
    best = [Math.min(Math.max(best[0], EDGE + 16), wide - EDGE - 16), Math.min(Math.max(best[1], 18), base - 16)];
    kept.push(best);
  }
  return kept;
}
