// What does the sky do between two answers? The little that a page repeats of it, pinned to Python.

export const SIDEREAL = 1.002737909350795; // sidereal days in a day of UT1 (IERS Conventions)
/** @type {(a: number, b: number) => number} */
export const mod = (a, b) => ((a % b) + b) % b;
// The same hour angle within (-12, 12].
/** @type {(h: number) => number} */
export const wrapH = (h) => 12 - mod(12 - h, 24);
/** @type {(deg: number) => number} */
export const wrap180 = (deg) => 180 - mod(180 - deg, 360);

// An hour angle some seconds later; the stars' rate unless another (hours per second) is given.
/** @type {(h: number, seconds: number, perSecond?: number) => number} */
export const hourAngleAfter = (h, seconds, perSecond = SIDEREAL / 3600) => wrapH(h + seconds * perSecond);

// Where an object stands: azimuth from north through east, altitude without air (degrees).
/** @type {(hourAngleH: number, declinationDeg: number, latitudeDeg: number) => [number, number]} */
export function azimuthAltitude(hourAngleH, declinationDeg, latitudeDeg) {
  const H = (hourAngleH * Math.PI) / 12,
    d = (declinationDeg * Math.PI) / 180,
    f = (latitudeDeg * Math.PI) / 180;
  const east = -Math.cos(d) * Math.sin(H),
    north = Math.cos(f) * Math.sin(d) - Math.sin(f) * Math.cos(d) * Math.cos(H);
  const up = Math.sin(f) * Math.sin(d) + Math.cos(f) * Math.cos(d) * Math.cos(H);
  return [
    mod((Math.atan2(east, north) * 180) / Math.PI, 360),
    (Math.atan2(up, Math.hypot(east, north)) * 180) / Math.PI,
  ];
}

// Earth rotation angle in turns (Capitaine, Guinot and McCarthy 2000), UT1 taken as UTC: 0.01 s.
/** @type {(date: Date) => number} */
export const earthTurns = (date) => {
  const days = date.getTime() / 86400000 - 10957.5;
  return mod(0.779057273264 + 0.00273781191135448 * days + mod(days, 1), 1);
};

// A point turned about the middle of a picture, clockwise positive, right and up given.
/** @type {(right: number, up: number, deg: number) => [number, number]} */
export function turned(right, up, deg) {
  const a = (deg * Math.PI) / 180,
    c = Math.cos(a),
    s = Math.sin(a);
  return [right * c + up * s, up * c - right * s];
}

// Where the pole star stands in the picture, between the places of its daily path: `ring` are
// points evenly spread over one sidereal day from the moment of the answer.
/** @type {(ring: number[][], secondsSince: number) => [number, number]} */
export function onRing(ring, secondsSince) {
  const steps = ring.length - 1,
    place = mod((secondsSince * SIDEREAL) / 86400, 1) * steps;
  const i = Math.floor(place),
    part = place - i,
    a = ring[i],
    b = ring[(i + 1) % ring.length];
  return [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part];
}
// The hour on a clock face of a point in the picture, within (0, 12].
/** @type {(right: number, up: number) => number} */
export const clockHour = (right, up) => 12 - mod(-((Math.atan2(right, up) * 180) / Math.PI) / 30, 12);
