// How does the rig stand on the Earth? The same rods, laid on a globe that is seen from its side or
// along its axis.

import { add, dot, framesOf } from "../shared/frames.js";
import { BRASS, circle, el, FAINT, HAIR, INK, line, PAPER, point, sheet, words } from "../shared/pen.js";
import { SIDEREAL } from "../shared/clock.js";
import { rodsSeen, usualLook } from "../shared/rig_flat.js";
import * as say from "../words/teach.js";

const DEG = Math.PI / 180;
export const HALO = { "paint-order": "stroke", stroke: PAPER, "stroke-width": 6 };

// The axis angles that point the tube at an hour angle and declination on a tube side (1 east, -1
// west), as in mount/rig/kinematics.py; `sense` 1 where the axis points to the north pole.
/** @type {(hourAngleH: number, declinationDeg: number, side: number, sense: number) => { end: number, swing: number }} */
export const poseFor = (hourAngleH, declinationDeg, side, sense) => ({
  end: hourAngleH - 6 * side,
  swing: -sense * side * (90 - sense * declinationDeg),
});

// The frames of a rig whose ground may lie in the other half of the Earth: the legs turn with it.
export function framesAt(rig, latitude, pose, altitude) {
  const frames = framesOf(rig, latitude, pose.end, pose.swing, altitude),
    over = latitude >= 0 !== rig.latitude_deg >= 0;
  if (over)
    frames.turn[0] = [
      [-1, 0, 0],
      [0, -1, 0],
      [0, 0, 1],
    ];
  return frames;
}

// East, north and up of a place as vectors of the Earth: z along its axis, x to longitude 0.
/** @type {(latitude: number, longitude: number) => number[][]} */
export function localOf(latitude, longitude) {
  const f = latitude * DEG,
    l = longitude * DEG;
  return [
    [-Math.sin(l), Math.cos(l), 0],
    [-Math.sin(f) * Math.cos(l), -Math.sin(f) * Math.sin(l), Math.cos(f)],
    [Math.cos(f) * Math.cos(l), Math.cos(f) * Math.sin(l), Math.sin(f)],
  ];
}

// How a globe is looked at: what is right, up and near of the Earth's own directions.
export const FROM_THE_SIDE = { right: [1, 0, 0], up: [0, 0, 1], near: [0, -1, 0] };
// Seen from above the pole that the axis points to.
/** @type {(sense: number) => typeof FROM_THE_SIDE} */
export const ALONG_THE_AXIS = (sense) => ({ right: [1, 0, 0], up: [0, sense, 0], near: [0, 0, sense] });

// The rig on a globe of this middle and radius; `size` is a metre in the drawing's units. Gives its
// parts, the nearest last, and where the axes cross.
export function rigOnEarth(rig, { latitude, longitude, pose, globe, look = usualLook }) {
  const local = localOf(latitude, longitude),
    { seen, centre, radius, size } = globe,
    frames = framesAt(rig, latitude, pose);
  const earth = (p) => add(...local.map((v, i) => v.map((c) => c * p[i])));
  const sheetOf = (e) => [dot(e, seen.right), -dot(e, seen.up)],
    foot = sheetOf(local[2]).map((v, i) => centre[i] + v * radius);
  const flat = (p) => {
    const [x, y] = sheetOf(earth(p));
    return point(foot[0] + x * size, foot[1] + y * size);
  };
  /** @type {import("../shared/rig_flat.js").View} */
  const view = { from: "east", right: [0, 0, 0], near: local.map((v) => dot(v, seen.near)) };
  return {
    parts: rodsSeen(rig, frames, view, { flat, scale: size, look }).map((s) => s.element),
    flat,
    frames,
    way: (v) => sheetOf(earth(v)),
  };
}
// Before it is lit the axis is as pale as the rest.
export const pale = (part) => ({ ...usualLook(part), stroke: part.frame < 2 ? INK : FAINT });

// The globe from the side with the rig at three places of one meridian, their tubes on one star.
export function threePlaces(rig, data, { lit }) {
  const W = 800,
    H = 800,
    centre = [96, H / 2],
    radius = 292;
  const size = 262 / (rig.hinge_height_m + 0.9),
    globe = { seen: FROM_THE_SIDE, centre, radius, size };
  const svg = sheet(W, H, say.THREE_PLACES);
  svg.append(
    circle(centre[0], centre[1], radius, { "stroke-width": 2.4, fill: PAPER }),
    ...[-60, -30, 0, 30, 60].map((lat) => {
      const x = radius * Math.cos(lat * DEG),
        y = centre[1] - radius * Math.sin(lat * DEG);
      return line(centre[0] - x, y, centre[0] + x, y, HAIR, lat === 0 ? 2.4 : 1);
    }),
    line(centre[0], 10, centre[0], H - 10, lit ? BRASS : INK, lit ? 4 : 2, { "stroke-dasharray": "14 7" }),
    words(centre[0] + 14, 30, say.THE_AXIS_OF_EARTH, 22, { "text-anchor": "start", "font-style": "italic" }),
  );
  for (const latitude of data.latitudes_deg) {
    const pose = poseFor(0, data.star.declination_deg, 1, latitude >= 0 ? 1 : -1),
      stood = rigOnEarth(rig, { latitude, longitude: 0, pose, globe, look: lit ? usualLook : pale });
    const axisAt = (s) =>
        stood.flat(
          add(
            stood.frames.centre,
            stood.frames.pole.map((v) => v * s),
          ),
        ),
      name = stood.flat([0, 0, -0.34]);
    svg.append(line(...stood.flat([0, -0.55, 0]), ...stood.flat([0, 0.55, 0]), INK, 2));
    const lights = lit ? [line(...axisAt(-0.62), ...axisAt(0.95), BRASS, 13, { opacity: 0.28 })] : [],
      core = lit ? [line(...axisAt(-0.62), ...axisAt(0.95), BRASS, 3.4)] : [];
    svg.append(
      ...lights,
      ...stood.parts,
      ...core,
      words(name[0] - 6, name[1] + 7, say.place(latitude), 22, { "text-anchor": "end", "font-weight": 600, ...HALO }),
    );
  }
  svg.append(
    words(W - 10, centre[1] - 18, say.toStar(data.star.name), 22, { "text-anchor": "end", ...HALO }),
    line(W - 118, centre[1], W - 24, centre[1], INK, 2),
    el("path", { d: `M${W - 10} ${centre[1]}l-16 -7v14z`, fill: INK }),
  );
  return svg;
}

// The Earth seen along its axis, turned by so many hours, with the rig on it; `follows`: its own axis
// turns back as fast. The star is far away, upwards.
export function turningEarth(rig, data, { hours, follows, type = 1 }) {
  const W = 460,
    H = 460 + 10 * type,
    latitude = data.latitude_deg,
    sense = latitude >= 0 ? 1 : -1,
    centre = [W / 2, 300],
    radius = 128;
  const seen = ALONG_THE_AXIS(sense),
    globe = { seen, centre, radius, size: 150 / (rig.hinge_height_m + 0.9) };
  // The place begins where the star stands on its meridian, at the top of the drawing.
  const longitude = sense * 90 + hours * 15 * SIDEREAL,
    pose = poseFor(follows ? hours * SIDEREAL : 0, data.star.declination_deg, 1, sense),
    stood = rigOnEarth(rig, { latitude, longitude, pose, globe });
  const turn = sense * hours * 15 * SIDEREAL * DEG;
  const tube = stood.frames.turn[3][2],
    way = stood.way(tube),
    at = stood.flat(stood.frames.centre),
    aim = (s) => point(at[0] + way[0] * s, at[1] + way[1] * s);
  const svg = sheet(W, H, say.ALONG_THE_AXIS),
    mark = sense > 0 ? W - 56 : 56; // on the side that the Earth turns away from
  svg.append(
    circle(centre[0], centre[1], radius, { "stroke-width": 2.2, fill: PAPER }),
    ...[0, 1, 2, 3].map((k) => {
      const a = -turn + (k * Math.PI) / 4;
      return line(
        centre[0] - radius * Math.cos(a),
        centre[1] - radius * Math.sin(a),
        centre[0] + radius * Math.cos(a),
        centre[1] + radius * Math.sin(a),
        HAIR,
        1,
      );
    }),
    circle(centre[0], centre[1], 5, { fill: BRASS, stroke: BRASS }),
    ...stood.parts,
    line(...aim(20), ...aim(190), BRASS, 2, { "stroke-dasharray": "8 6" }),
    line(mark, 84, mark, 30, INK, 2),
    el("path", { d: `M${mark} 18l-7 16h14z`, fill: INK }),
    words(mark - sense * 10, 46, say.toStar(data.star.name), 19 * type, {
      "text-anchor": sense > 0 ? "end" : "start",
      ...HALO,
    }),
    words(W / 2, H - 2 - 7 * type, say.seenAlong(sense), 18 * type, { fill: FAINT }),
  );
  return svg;
}
