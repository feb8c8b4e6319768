// What must the knobs do when a star passes overhead: one axis along the pole, or one upright?

import { azimuthAltitude, SIDEREAL } from "../shared/clock.js";
import { add, dot } from "../shared/frames.js";
import { BRASS, el, INK, line, PAPER, point, sheet, WARN, words } from "../shared/pen.js";
import { rodsSeen, usualLook, viewsOf } from "../shared/rig_flat.js";
import { framesAt, HALO, poseFor } from "./teach_globe.js";
import * as say from "../words/teach.js";

const DEG = Math.PI / 180;
// The hour axis follows by so much, degrees an hour.
export const STARS_RATE = 15 * SIDEREAL;

// How fast azimuth and altitude of a star change, degrees an hour; as mount/follow/altaz_rates.py:
// dA/dH = sin f - tan e cos A cos f, de/dH = cos f sin A.
/** @type {(hourAngleH: number, declinationDeg: number, latitudeDeg: number) => [number, number]} */
export function altazRates(hourAngleH, declinationDeg, latitudeDeg) {
  const [A, e] = azimuthAltitude(hourAngleH, declinationDeg, latitudeDeg).map((v) => v * DEG),
    f = latitudeDeg * DEG;
  return [STARS_RATE * (Math.sin(f) - Math.tan(e) * Math.cos(A) * Math.cos(f)), STARS_RATE * Math.cos(f) * Math.sin(A)];
}
// The angles of the same two axes when the first stands upright, for an azimuth and an altitude.
/** @type {(azimuth: number, altitude: number, sense: number) => { end: number, swing: number }} */
export function uprightPose(azimuth, altitude, sense) {
  const hour = (sense > 0 ? azimuth - 180 : -azimuth) / 15;
  return poseFor(hour, sense * altitude, 1, sense);
}

// One of both mounts from behind, the star before it, and what its knobs do at this hour angle; before
// the look (`largest` null) the bars are empty. `low`: on a phone both stand above one another.
export function mountOnStar(rig, data, { hours, largest, upright, low }) {
  const latitude = data.latitude_deg,
    sense = latitude >= 0 ? 1 : -1,
    dec = data.overhead_deg,
    [azimuth, altitude] = azimuthAltitude(hours, dec, latitude),
    rates = altazRates(hours, dec, latitude);
  const W = 450,
    base = low ? 200 : 310,
    k = (base - 12) / (rig.hinge_height_m + 0.95),
    [, behind] = viewsOf(sense);
  const pose = upright ? uprightPose(azimuth, altitude, sense) : poseFor(hours, dec, 1, sense),
    frames = framesAt(rig, latitude, pose, upright ? 90 : undefined);
  const flat = (p) => point(W / 2 + dot(p, behind.right) * k, base - p[2] * k),
    axis = (s) =>
      flat(
        add(
          frames.centre,
          frames.pole.map((v) => v * s),
        ),
      ),
    top = Math.max(STARS_RATE, ...(largest ?? []).map(Math.abs), ...rates.map(Math.abs));
  const rows = upright
    ? [
        { rate: rates[0], most: largest?.[0] ?? 0, name: say.AZIMUTH_KNOB },
        { rate: rates[1], most: largest?.[1] ?? 0, name: say.ALTITUDE_KNOB },
      ]
    : [
        { rate: STARS_RATE, most: STARS_RATE, name: say.HOUR_KNOB },
        { rate: 0, most: 0, name: say.DECLINATION_KNOB },
      ];
  return sheet(
    W,
    base + 178,
    upright ? say.UPRIGHT : say.EQUATORIAL,
    line(30, base, W - 30, base, INK, 1.8),
    line(...axis(-0.6), ...axis(0.7), BRASS, 9, { opacity: 0.28 }),
    ...rodsSeen(rig, frames, behind, { flat, scale: k, look: usualLook }).map((s) => s.element),
    words(W / 2, base + 28, upright ? say.UPRIGHT : say.EQUATORIAL, 22, { "font-weight": 600 }),
    ...rows.flatMap((row, i) => bar(base + 72 + 68 * i, largest ? { ...row, top } : null, row.name)),
  );
}
// A knob's rate as a bar to one scale for all four; a thin mark where it stood at its largest.
function bar(y, seen, name) {
  const left = 35,
    parts = [
      words(left, y - 8, name, 19, { "text-anchor": "start" }),
      el("rect", { x: left, y, width: 380, height: 24, fill: PAPER, stroke: INK, "stroke-width": 1.2 }),
    ];
  if (!seen) return parts;
  const { rate, most, top } = seen,
    long = (v) => (Math.abs(v) / top) * 380;
  return [
    ...parts,
    words(415, y - 8, say.perHour(rate, most), 19, { "text-anchor": "end", "font-weight": 600, ...HALO }),
    el("rect", { x: left, y, width: long(rate), height: 24, fill: Math.abs(rate) > 4 * STARS_RATE ? WARN : BRASS }),
    ...(most ? [line(left + long(most), y - 3, left + long(most), y + 27, INK, 2)] : []),
  ];
}
