// How is one moment of a rehearsal drawn: the rig from two sides, who looks, what is open?

import { add, dot, framesOf, inFrame, scale } from "../shared/frames.js";
import { bodyAt, EYES, personSeen, stool } from "../shared/person.js";
import { BRASS, circle, FAINT, INK, line, PAPER, point, sheet, WARN, words } from "../shared/pen.js";
import { rodsSeen, usualLook, viewsOf } from "../shared/rig_flat.js";
import { wrapH } from "../shared/clock.js";
import * as say from "../words/rehearse.js";
import { turnSign } from "./rehearse_sign.js";

const W = 430,
  FOOT = 52,
  TOP = 12,
  MOST_FILLED = 2, // more parts than a leg's are told by their outline
  STEEP = 0.17, // a barrel nearer to the vertical than this lets the body stand on any side
  HALO = { "paint-order": "stroke", stroke: PAPER, "stroke-width": 5 };

// Between two standings, `part` of the way; the axes turn evenly, the hour axis the short way.
export function between(step, part) {
  const a = step.start,
    b = step.finish,
    mix = (x, y) => x + (y - x) * part;
  const hours = step.act === "follow" ? wrapH(b.tube_end_h - a.tube_end_h) : b.tube_end_h - a.tube_end_h;
  return {
    end: a.tube_end_h + hours * part,
    swing: mix(a.swing_deg, b.swing_deg),
    raise: mix(a.raise_deg, b.raise_deg),
    east: mix(a.move_east_deg, b.move_east_deg),
  };
}
// The frames of a pose whose polar axis is off the pole: the head tipped, then turned on its base.
export function framesOff(rig, pose) {
  const frames = framesOf(rig, rig.latitude_deg, pose.end, pose.swing, Math.abs(rig.latitude_deg) + pose.raise),
    angle = (-frames.sense * pose.east * Math.PI) / 180;
  if (!angle) return frames;
  const c = Math.cos(angle),
    s = Math.sin(angle),
    turned = (v) => [c * v[0] - s * v[1], s * v[0] + c * v[1], v[2]];
  return {
    ...frames,
    at: frames.at.map((v, i) => (i ? turned(v) : v)),
    turn: frames.turn.map((columns, i) => (i ? columns.map(turned) : columns)),
  };
}
// Where the eye has to be: its place, and the level way from there to the body.
export function eyeOf(rig, frames) {
  const eye = inFrame(frames, 3, rig.eye_point_m),
    out = rig.barrel.map((v, i) => scale(frames.turn[3][i], v)).reduce((a, b) => add(a, b)),
    level = Math.hypot(out[0], out[1]);
  const from = level > STEEP ? out : eye,
    size = Math.hypot(from[0], from[1]) || 1;
  /** @type {[number, number]} */
  const away = [from[0] / size, from[1] / size];
  return { eye, away };
}

// How far and how high the rig and whoever looks ever go in this evening, metres.
function bounds(data, poseOf) {
  let reach = 0.4,
    height = data.eye_height_max_mm / 1000 / EYES;
  for (const step of data.steps)
    for (const part of [0, 0.5, 1]) {
      const { frames, body } = poseOf(step, part);
      for (const [row, one] of data.rig.parts.entries()) {
        if (data.group[row] > step.built) continue;
        for (const end of [one.start_m, one.end_m]) {
          const p = inFrame(frames, one.frame, end);
          reach = Math.max(reach, Math.hypot(p[0], p[1]) + one.radius_m);
          height = Math.max(height, p[2] + one.radius_m);
        }
      }
      if (body) reach = Math.max(reach, Math.hypot(body.hips[0], body.hips[1]) + 0.14);
    }
  return { reach: reach + 0.06, height: height + 0.04 };
}

// Gives draw(step, part): two SVGs, from the east and from behind; and which of them shows more.
export function rehearsedRig(data) {
  const { rig } = data,
    sense = rig.latitude_deg >= 0 ? 1 : -1,
    views = viewsOf(sense);
  const heights = (step) => ({
    least: data.eye_height_min_mm / 1000,
    most: data.eye_height_max_mm / 1000,
    stands: step.eye.stool_mm / 1000,
  });
  function poseOf(step, part) {
    const frames = framesOff(rig, between(step, step.shown ? part : 1)),
      looks = step.eye ? eyeOf(rig, frames) : null;
    return { frames, looks, body: looks ? bodyAt(looks.eye, looks.away, heights(step)) : null };
  }
  const size = bounds(data, poseOf),
    k = W / (2 * size.reach),
    base = TOP + size.height * k;
  /** @type {Record<string, [number, number[]]>} */
  const lockAt = { hour: middleOf(rig, 1), declination: middleOf(rig, 2) };

  function view(step, { frames, looks, body }, one) {
    const flat = (p) => point(W / 2 + dot(p, one.right) * k, base - p[2] * k),
      how = { flat, scale: k };
    const marked = new Set(step.marked);
    const look = (part, row) => {
      // Before anything stands, what will stand there.
      if (data.group[row] > step.built) return step.built ? null : { stroke: FAINT, fill: "none", width: 0.7 };
      const usual = usualLook(part);
      if (!marked.has(row)) return usual;
      if (step.act === "follow") return { ...usual, stroke: WARN, width: 3 };
      if (marked.size > MOST_FILLED) return { ...usual, stroke: BRASS, width: 3.2 };
      const pen = step.act === "turn" ? WARN : BRASS;
      return { stroke: pen, fill: pen, width: 1.6 };
    };
    const seen = rodsSeen(rig, frames, one, { ...how, look }),
      [left, right] = say.ends(one.from, sense);
    const svg = sheet(
      W,
      Math.round(base + FOOT),
      say.RIG_FROM[one.from],
      line(4, base, W - 4, base, INK, 1.8),
      words(6, base + 20, left, 15, { "text-anchor": "start", fill: FAINT }),
      words(W - 6, base + 20, right, 15, { "text-anchor": "end", fill: FAINT }),
      words(W / 2, base + 44, say.SEEN_FROM[one.from], 15, { fill: FAINT }),
    );
    if (body) {
      seen.push(personSeen(body, one, how, add(looks.eye, scale([...looks.away, 0], 0.05))));
      seen.sort((a, b) => a.depth - b.depth);
      if (step.eye.stool_mm) svg.append(stool(body.foot, step.eye.stool_mm / 1000, how));
    }
    svg.append(...seen.map((s) => s.element));
    if (body) svg.append(...height(flat(looks.eye), flat(body.hips)[0], step));
    if (step.lock) svg.append(...lock(flat(inFrame(frames, ...lockAt[step.lock])), step));
    return svg;
  }
  // From the ground to the eyepiece, behind whoever looks.
  function height([x, y], back, step) {
    const side = Math.abs(back - x) > 0.1 * k ? Math.sign(back - x) : x > W / 2 ? 1 : -1,
      far = side > 0 ? Math.max(x, back) : Math.min(x, back);
    const at = Math.min(W - 34, Math.max(34, far + side * 0.36 * k)),
      start = x + side * Math.min(Math.abs(at - x), Math.abs(back - x) > 0.1 * k ? 0.26 * k : 0);
    return [
      line(start, y, at, y, FAINT, 1.2, { "stroke-dasharray": "2 4" }),
      line(at, y, at, base, INK, 1.4),
      line(at - 6, y, at + 6, y, INK, 1.4),
      words(at, y - 8, say.eyeHigh(step.eye.height_mm, data.units), 19, { "font-weight": 600, ...HALO }),
    ];
  }
  function lock([x, y], step) {
    const side = x > W / 2 ? -1 : 1;
    return [
      circle(x, y, 9, { stroke: BRASS, "stroke-width": 4, fill: PAPER }),
      words(Math.min(W - 8, Math.max(8, x + side * 16)), y - 14, say.axisFree(step), 17, {
        "text-anchor": side > 0 ? "start" : "end",
        "font-weight": 600,
        ...HALO,
      }),
    ];
  }
  return {
    draw(step, part) {
      const pose = poseOf(step, part);
      return Object.fromEntries(views.map((one) => [one.from, view(step, pose, one)]));
    },
    // Where somebody looks, from whose side they are seen more; else where the motion shows.
    side(step) {
      const looks = step.eye ? poseOf(step, 1).looks : null;
      if (looks) return Math.abs(looks.away[1]) > Math.abs(looks.away[0]) ? "east" : "behind";
      return step.lock === "declination" || ["leg", "bolt", "scale"].includes(step.act) ? "east" : "behind";
    },
    pole: Math.abs(rig.latitude_deg),
    sense,
  };
}
// The housing of an axis is the first part of its frame.
/** @type {(rig: any, frame: number) => [number, number[]]} */
function middleOf(rig, frame) {
  const part = rig.parts.find((p) => p.frame === frame);
  return [frame, scale(add(part.start_m, part.end_m), 0.5)];
}

// The axis beside its pole, as one sees it who looks there: rings half a degree apart.
export function aim(step, part, { pole, sense }) {
  const S = 400,
    C = point(S / 2, S / 2),
    pose = between(step, part),
    flat = Math.cos((pole * Math.PI) / 180);
  const size = Math.max(0.75, ...[step.start, step.finish].map((s) => Math.hypot(s.raise_deg, s.move_east_deg * flat)));
  const k = (S / 2 - 40) / size,
    at = (raise, east) => point(C[0] + sense * east * flat * k, C[1] - raise * k),
    axis = at(pose.raise, pose.east);
  const svg = sheet(S, S + (step.bolt ? 64 : 10), say.AIM);
  for (let r = 0.5; r * k < S / 2; r += 0.5) svg.append(circle(...C, r * k, { stroke: FAINT, "stroke-width": 0.9 }));
  svg.append(
    line(C[0] - 12, C[1], C[0] + 12, C[1], INK, 2),
    line(C[0], C[1] - 12, C[0], C[1] + 12, INK, 2),
    words(C[0] + 16, C[1] - 8, say.POLE, 18, { "text-anchor": "start", ...HALO }),
    line(...at(step.start.raise_deg, step.start.move_east_deg), ...axis, BRASS, 2, { "stroke-dasharray": "5 4" }),
    circle(...axis, 9, { fill: BRASS, stroke: BRASS }),
  );
  const off = Math.hypot(pose.raise, pose.east * flat) * 60;
  if (off > 1)
    svg.append(words(axis[0], axis[1] + 30, `${say.AXIS}, ${say.offBy(off)}`, 18, { "font-weight": 600, ...HALO }));
  if (step.bolt) svg.append(turnSign(44, S + 34, step.bolt.clockwise, say.boltTurn(step.bolt), true));
  return svg;
}
