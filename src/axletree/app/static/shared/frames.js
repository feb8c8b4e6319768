// Where does every frame of the rig stand when the axes turn? As in mount/rig/kinematics.py: columns
// are local coordinates, x east, y north, z up. Tests hold these matrices against Python's.

/** @typedef {number[]} Vector three coordinates */

/** @type {(a: Vector, b: Vector) => Vector} */
export const sub = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
/** @type {(a: Vector, b: Vector) => number} */
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** @type {(a: Vector, b: Vector) => Vector} */
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
/** @type {(a: Vector, s: number) => Vector} */
export const scale = (a, s) => [a[0] * s, a[1] * s, a[2] * s];
/** @type {(...v: Vector[]) => Vector} */
export const add = (...v) => v.reduce((a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
/** @type {(a: Vector) => Vector} */
export const unit = (a) => scale(a, 1 / (Math.hypot(...a) || 1));

// The four frames of a pose as columns x, y, z, and their origins: GROUND, HEAD, POLAR,
// DECLINATION. `latitudeDeg` (south negative) says which pole is meant; the axis stands at
// `altitudeDeg`, or at the latitude.
/**
 * @typedef {{ hinge_height_m: number, crossing_along_m: number, crossing_above_m: number }} Crossing
 * @typedef {{ pole: Vector, meridian: Vector, west: Vector, sense: 1 | -1, centre: Vector, at: Vector[], turn: Vector[][] }} Frames
 */
/** @type {(rig: Crossing, latitudeDeg: number, tubeEndH: number, swingDeg: number, altitudeDeg?: number) => Frames} */
export function framesOf(rig, latitudeDeg, tubeEndH, swingDeg, altitudeDeg = Math.abs(latitudeDeg)) {
  const sense = latitudeDeg >= 0 ? 1 : -1,
    alt = (altitudeDeg * Math.PI) / 180;
  const pole = [0, sense * Math.cos(alt), Math.sin(alt)],
    meridian = [0, -sense * Math.sin(alt), Math.cos(alt)],
    west = [-1, 0, 0];
  const h = (tubeEndH * Math.PI) / 12,
    psi = (swingDeg * Math.PI) / 180;
  const D = add(scale(meridian, Math.cos(h)), scale(west, Math.sin(h))),
    Q = cross(pole, D);
  const T = add(scale(Q, Math.sin(psi)), scale(pole, Math.cos(psi))),
    U = sub(scale(Q, Math.cos(psi)), scale(pole, Math.sin(psi)));
  const centre = add(
    [0, 0, rig.hinge_height_m],
    scale(pole, rig.crossing_along_m),
    scale(meridian, rig.crossing_above_m),
  );
  return {
    pole,
    meridian,
    west,
    sense,
    centre,
    at: [[0, 0, 0], centre, centre, centre],
    turn: [
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      [meridian, cross(pole, meridian), pole],
      [D, Q, pole],
      [D, U, T],
    ],
  };
}
/** @type {(frames: Frames, index: number, p: Vector) => Vector} */
export const inFrame = (frames, index, p) =>
  add(frames.at[index], ...frames.turn[index].map((column, i) => scale(column, p[i])));
