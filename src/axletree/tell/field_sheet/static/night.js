// What do Python's tables say at this moment? Interpolation, openings, the sidereal clock.
// Moments are seconds since 1970; nothing is computed here that a table holds.

import { azimuthAltitude, clockHour, mod, onRing, SIDEREAL, wrapH } from "./clock.js";

export function nightOf(tables) {
  const objects = new Map(tables.objects.map((o, index) => [o.key, { ...o, index }]));
  const begin = tables.begin_unix_s,
    end = begin + tables.step_s * (tables.samples - 1);
  const sense = tables.latitude_deg >= 0 ? 1 : -1;
  // Beyond the ends the last step goes on: good for stars, and said on the screen.
  /** @typedef {[number, number]} Between the sample before, and how far towards the next */
  /** @type {(at: number) => Between} */
  const spot = (at) => {
    const x = (at - begin) / tables.step_s,
      i = Math.min(Math.max(Math.floor(x), 0), tables.samples - 2);
    return [i, x - i];
  };
  /** @type {(values: number[], between: Between) => number} */
  const read = (values, [i, part]) => values[i] + (values[i + 1] - values[i]) * part;
  // Eyes and pictures change slowly: their samples stand farther apart.
  /** @type {(at: number) => Between} */
  const wide = (at) => {
    const x = (at - begin) / (tables.step_s * tables.eye_every),
      last = Math.ceil(tables.samples / tables.eye_every) - 1,
      i = Math.min(Math.max(Math.floor(x), 0), Math.max(last - 1, 0));
    return [i, last ? Math.min(Math.max(x - i, 0), 1) : 0];
  };
  const between = (values, [i, part]) => (part ? read(values, [i, part]) : values[i]);
  const nearest = (values, [i, part]) => values[Math.min(Math.max(Math.round(i + part), 0), values.length - 1)];

  function place(key, at) {
    const o = objects.get(key),
      s = spot(at),
      hour = read(o.hour_angle_h, s),
      declination = read(o.declination_deg, s);
    const [azimuth, bare] = azimuthAltitude(hour, declination, tables.latitude_deg);
    return {
      hourAngleH: wrapH(hour),
      declinationDeg: declination,
      azimuthDeg: azimuth,
      altitudeDeg: bare + read(o.lift_arcmin, s) / 60,
      hourCircleH: wrapH(read(o.hour_circle_h, s)),
      declinationCircleDeg: read(o.declination_circle_deg, s),
    };
  }
  // What this mount's own circles show on a side, and how well that is known; null where it isn't.
  function ownCircles(key, side, at) {
    const off = objects.get(key).sides[side].circles;
    if (!off) return null;
    const s = wide(at),
      { hourCircleH, declinationCircleDeg } = place(key, at);
    return {
      hourH: wrapH(hourCircleH + between(off.hour_min, s) / 60),
      hourSigmaMin: between(off.hour_sigma_min, s),
      declinationDeg: declinationCircleDeg + between(off.declination_deg, s),
      declinationSigmaDeg: between(off.declination_sigma_deg, s),
    };
  }
  // How the hour circle is set for a side that wasn't planned; null where it isn't.
  const setOn = (key, side) => objects.get(key).sides[side].set_on ?? null;
  // The two axis angles of a pose, from what the circles read on a tube side (mount/kinematics).
  function pose(key, side, at) {
    const { hourCircleH, declinationCircleDeg } = place(key, at),
      sign = side === "east" ? 1 : -1;
    return { tubeEndH: wrapH(hourCircleH - 6 * sign), swingDeg: -sign * sense * (90 - sense * declinationCircleDeg) };
  }
  function eye(key, side, at) {
    const o = objects.get(key).sides[side],
      s = wide(at);
    return {
      heightMm: between(o.height_mm, s),
      faceDeg: nearest(o.face_azimuth_deg, s),
      barrelDeg: between(o.barrel_altitude_deg, s),
      northDeg: nearest(o.north_deg, s),
      driftDeg: nearest(o.drift_deg, s),
      posture: tables.postures[nearest(o.posture, s)],
    };
  }
  // The weights hang above the tube once its end of the shaft has turned below the level.
  const weightsUp = (key, side, at) => Math.abs(pose(key, side, at).tubeEndH) > 6;
  const openings = (key, side) =>
    (objects.get(key)?.openings ?? [])
      .filter((o) => !side || o.side === side)
      .map((o) => {
        const until = o.end_s === null ? Infinity : begin + o.end_s,
          shows = o.shows_until_s === null ? Infinity : begin + o.shows_until_s;
        return {
          side: o.side,
          from: begin + o.begin_s,
          until,
          shows,
          lasts: Math.min(until, shows),
          endsBy: o.ends_by,
        };
      });
  const opening = (key, side, at) => openings(key, side).find((o) => o.from - 1 <= at && at <= o.lasts + 1) ?? null;
  const breaks = tables.breaks.map(([a, b]) => [begin + a, begin + b]);
  function move(from, to) {
    if (!from || !to || (from[0] === to[0] && from[1] === to[1])) return 0;
    const row = (way) => 2 * objects.get(way[0]).index + (way[1] === "west" ? 1 : 0);
    return tables.moving_s[row(from)][row(to)];
  }
  function poleStar(at) {
    const [right, up] = onRing(tables.pole.ring, at - tables.pole.at_unix_s);
    return { right, up, away: Math.hypot(right, up), hour: clockHour(right, up) };
  }
  const poleTurnDeg = (at) => (tables.pole.turn_deg_per_h * (at - tables.pole.at_unix_s)) / 3600;
  const siderealH = (at) => mod(tables.sidereal_h + ((at - begin) * SIDEREAL) / 3600, 24);
  return {
    begin,
    end,
    breaks,
    place,
    ownCircles,
    setOn,
    pose,
    eye,
    weightsUp,
    openings,
    opening,
    move,
    poleStar,
    poleTurnDeg,
    siderealH,
    has: (key) => objects.has(key),
    queue: (key) => objects.get(key).queue_s,
  };
}
