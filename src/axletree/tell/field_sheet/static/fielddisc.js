// How do Moon and planets look in a round field? The same ink as on paper (tell/eyepiece/disc_drawing.py).

import { BRASS, circle, el, FAINT, INK, line, PAPER, path, point } from "./pen.js";

const DEG = Math.PI / 180,
  LEAST = 9, // a smaller disc is drawn once more, larger, in a corner
  INSET = 22, // that corner's radius, and its middle from the sheet's edges
  LEAST_MOON = 3.5, // from so large on the Moon shows its phase also in a finder
  LEAST_DOT = 1.3,
  LEAST_DISC = 1.9,
  HATCH = 2.6,
  BESIDE_DEG = 32, // so far from a mark at the rim a corner is free
  BELTS = 0.2; // Jupiter's two belts, in its radii from the equator

// A direction on the sky, counted from north through east, as it lies in the view (clockwise from up).
/** @type {(view: any, northDeg: number, positionDeg: number) => number} */
export const inView = (view, northDeg, positionDeg) => northDeg + (view.mirrored ? positionDeg : -positionDeg);

/** @typedef {(angleDeg: number, along: number, across?: number) => [number, number]} Spot */
// Places about a middle: so many px towards an angle, and so many to its right.
/** @type {(x: number, y: number) => Spot} */
const about =
  (x, y) =>
  (angleDeg, along, across = 0) => {
    const [s, c] = [Math.sin(angleDeg * DEG), Math.cos(angleDeg * DEG)];
    return point(x + along * s + across * c, y - along * c + across * s);
  };
/** @type {(spot: Spot, angleDeg: number, along: number, across: number, from?: number, to?: number) => [number, number][]} */
const oval = (spot, angleDeg, along, across, from = 0, to = 360) =>
  Array.from({ length: 37 }, (_, i) => {
    const t = (from + (i * (to - from)) / 36) * DEG;
    return spot(angleDeg, along * Math.cos(t), across * Math.sin(t));
  });

// The radius of the disc on the sheet; 0 where the view shows a place only.
/** @type {(view: any, body: any, R: number) => number} */
export function discRadius(view, body, R) {
  const r = (view.outline?.[2] ?? 0) * R;
  if (!body?.disc || !view.outline || view.outline[2] >= 1) return 0;
  if (view.instrument === "eyepiece") return r;
  return body.kind === "moon" && r >= LEAST_MOON ? r : 0;
}

/** @type {(view: any, body: any, northDeg: number, at: [number, number], r: number, reach: number) => SVGGElement} */
export function drawDisc(view, body, northDeg, at, r, reach) {
  const { disc, rings } = body,
    turned = (deg) => inView(view, northDeg, deg),
    spot = about(...at),
    axis = turned(disc.axis_deg),
    flat = disc.polar_diameter_arcsec / disc.diameter_arcsec,
    limb = oval(spot, axis, r * flat, r),
    group = el("g", {});
  const px = (2 * r) / disc.diameter_arcsec;
  const ring = (wide, from, to) =>
    path(oval(spot, axis, (wide / 2) * px * rings.short_over_long, (wide / 2) * px, from, to), { "stroke-width": 0.9 });
  const wides = rings ? [rings.outer_arcsec, rings.gap_arcsec, rings.inner_arcsec] : [];
  // South of the plane of the rings we see their near side north of the globe.
  const near = rings && rings.opening_deg < 0 ? -90 : 90;
  group.append(...wides.map((wide) => ring(wide, near + 180, near + 360)));
  group.append(path(limb, { fill: PAPER, stroke: "none" }), ...dark(disc, spot, turned(disc.bright_limb_deg), r));
  if (r < LEAST_DISC) group.append(circle(...at, LEAST_DISC, { stroke: BRASS, "stroke-width": 1.3, fill: PAPER }));
  else group.append(path(limb, { stroke: BRASS, "stroke-width": r > 4 ? 1.7 : 1.2 }));
  group.append(...wides.map((wide) => ring(wide, near, near + 180)));
  if (body.moons.length && !rings && r >= LEAST)
    for (const north of [BELTS, -BELTS]) {
      const half = 0.96 * r * Math.sqrt(1 - BELTS ** 2);
      group.append(
        line(...spot(axis, north * r * flat, -half), ...spot(axis, north * r * flat, half), FAINT, 0.08 * r),
      );
    }
  for (const moon of body.moons) {
    const place = spot(turned(moon.position_angle_deg), moon.apart_arcsec * px),
      size = Math.max((moon.size_arcsec / 2) * px, LEAST_DOT);
    if (Math.hypot(place[0] - at[0], place[1] - at[1]) > reach - 2) continue;
    if (moon.state === "before_disc") group.append(circle(...place, size, { "stroke-width": 0.8, fill: PAPER }));
    else if (moon.state === "beside") group.append(circle(...place, size, { stroke: "none", fill: INK }));
  }
  return group;
}

// The unlit part in slanting lines, from the limb to the line between light and dark.
/** @type {(disc: any, spot: Spot, bright: number, r: number) => SVGElement[]} */
function dark(disc, spot, bright, r) {
  const rows = [],
    edge = 1 - 2 * disc.lit_fraction;
  if (r < LEAST_MOON || disc.lit_fraction > 0.985) return rows;
  for (let v = -r + HATCH / 2; v < r; v += HATCH) {
    const half = Math.sqrt(r * r - v * v);
    rows.push(line(...spot(bright, -half, v), ...spot(bright, edge * half, v), FAINT, 0.8));
  }
  const between = Array.from({ length: 37 }, (_, i) => {
    const t = (i * 5 - 90) * DEG;
    return spot(bright, edge * r * Math.cos(t), r * Math.sin(t));
  });
  return [...rows, path(between, { "stroke-width": 1 })];
}

// The disc once more, larger, in a corner away from what stands at the rim.
/** @type {(view: any, body: any, northDeg: number, driftDeg: number, size: number) => SVGGElement} */
export function inset(view, body, northDeg, driftDeg, size) {
  const off = (deg, mark) => Math.abs(((((deg - mark) % 360) + 540) % 360) - 180);
  const free = (deg) => Math.min(off(deg, northDeg), off(deg, driftDeg));
  // The left ones would stand beside the finder's field.
  const best = (corners) => corners.reduce((one, other) => (free(other) > free(one) ? other : one));
  const corner = free(best([45, 135])) > BESIDE_DEG ? best([45, 135]) : best([225, 315]);
  const x = corner < 180 ? size - INSET : INSET,
    y = corner === 45 || corner === 315 ? INSET : size - INSET,
    wide = body.rings ? body.rings.outer_arcsec / body.disc.diameter_arcsec : 1.3;
  return el(
    "g",
    {},
    circle(x, y, INSET - 1, { stroke: FAINT, "stroke-width": 0.8, fill: PAPER }),
    drawDisc(view, body, northDeg, point(x, y), (INSET - 4) / wide, INSET - 1),
  );
}
/** @type {(view: any, r: number) => boolean} */
export const isSmall = (view, r) => view.instrument === "eyepiece" && r < LEAST;
