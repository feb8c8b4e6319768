// The words of the page about following: figures in, sentences out.

import { clock, clockFace, countdown, dayOf, degrees, duration, toTheSecond } from "../shared/words.js";

export const AS_KIT = "as on a mount whose axis is right";
export const LOOKING = "Looking how it moves";
export const notNow = (name) => [`${name}:`, " not to be followed now"];
export const SHEET = "The object in the eyepiece's field, and the knob";
export const BEFORE_RING = "nudge before this ring";
export const HOUR_KNOB = "hour knob";
export const MOTOR_FOLLOWS = "the motor follows";
export const PUSH_WEST = "push the tube to the west";
export const GONE = "out of the field";

export const sense = (clockwise) => (clockwise ? "clockwise" : "anticlockwise");
export const eyepiece = (row) => `${row.eyepiece}, ${row.magnification.toFixed(0)} times`;
export const field = (row) => `${row.eyepiece}, field ${degrees(row.true_field_deg, 2)}`;
export const drifts = (clockDeg) => `drifts to ${clockFace(clockDeg)}`;
export const knobTurn = (deg) => (deg >= 360 ? `${(deg / 360).toFixed(1)} turns` : degrees(deg, 0));

// What is good to know about knobs, motor, visitors, field and camera, a sentence each.
export const rows = (data, glass, side) => [
  ...(data.seconds_per_knob_turn_object ? [hourKnob(data)] : []),
  ...(data.backlash_s ? [`After turning back, ${duration(data.backlash_s)} of slack come first.`] : []),
  ...(data.declination_knob ? [declinationKnob(data, side)] : []),
  ...data.motor.map(motor),
  ...(data.visitors
    ? [
        `${data.visitors} visitors, ${duration(data.seconds_per_visitor)} each: ${glass.nudges_per_visitor < 0.05 ? "hardly a nudge" : `about ${glass.nudges_per_visitor.toFixed(1)} nudges`} for each of them.`,
      ]
    : []),
  `Nothing turned, it crosses this field in ${toTheSecond(glass.drift_time_s ?? 0)}; field ${degrees(glass.true_field_deg, 2)}, exit pupil ${glass.exit_pupil_mm.toFixed(1)} mm.`,
  ...(data.camera ? [camera(data.camera)] : []),
];
const hourKnob = (data) =>
  `Hour knob ${sense(data.knob_clockwise)}: one turn every ${duration(data.seconds_per_knob_turn_object)}, ${degrees(data.knob_deg_per_turn, 2)} of hour angle a turn.`;
const declinationKnob = (data, side) => {
  const knob = data.declination_knob,
    clockwise = side === "east" ? knob.clockwise_side_east : knob.clockwise_side_west;
  // Where this mount was measured: what its own axis makes the knob do.
  const own = data.axis_work?.find((w) => w.side === side);
  const rate = own ? own.declination_arcsec_per_min : data.declination_rate_arcsec_per_s * 60;
  if (!own && Math.abs(rate) < 0.05)
    return `Declination knob clockwise moves the tube ${clockwise} on this side; it needs no turning.`;
  const error = own ? ` ± ${own.sigma_arcsec_per_min.toFixed(1)}″` : "″";
  const whence = own ? `, by this mount's axis as noted on the evening of ${dayOf(data.state.evening)}` : "";
  return `Declination knob clockwise moves the tube ${clockwise} on this side; it needs ${Math.abs(rate).toFixed(1)}${error} a minute ${rate >= 0 ? "north" : "south"}${whence}.`;
};
const motor = (m) => {
  const left = Math.hypot(m.left_hour_angle_arcsec_per_min, m.left_declination_arcsec_per_min);
  return `Motor at the ${m.rate} rate leaves ${left < 0.05 ? "nothing" : `${left.toFixed(1)}″ a minute`}.`;
};
const camera = (c) =>
  `Camera: stars stay round for ${c.still_s === null ? "any time" : duration(c.still_s)} with nothing turning${c.periodic_worst_s ? `, ${duration(c.periodic_worst_s)} at the worm's worst` : ""}.`;

// What the hand does at a nudge.
export const nudge = (data, glass) => {
  if (data.motor.length) return "a touch of the motor's keys";
  if (!data.seconds_per_knob_turn_object) return "push the tube gently to the west";
  const turn = glass.knob_turn_deg === null ? "" : `${degrees(glass.knob_turn_deg, 0)} of the hour knob, `;
  return `${turn}${sense(data.knob_clockwise)}`;
};
// The large line, in two parts; `leftS` to the next nudge, Infinity where none is needed.
export const countdownTo = (leftS) => {
  if (leftS === Infinity) return ["No nudge", " needed"];
  if (leftS <= 0) return ["Turn now", ` ${duration(-leftS)} late`];
  return [countdown(Math.ceil(leftS)), " to the next nudge"];
};
export const afterThat = (how) => `Then ${how}. `;
export const turnNow = (how) => `Turn now: ${how}.`;
const LONGEST_NIGHT_S = 12 * 3600; // as far as a room is told
export const motorKeeps = (rate, seconds) =>
  `The motor keeps it: at the ${rate} rate it drifts out of the ring only after ${seconds === null || seconds > LONGEST_NIGHT_S ? "more than a night" : duration(seconds)}. `;
export const STAYS = "It stays in this field by itself. ";

// How long there is room on this side.
export const noRoom = (side) => `No room on side ${side.side}: ${side.ends}.`;
export const ALL_NIGHT = "Room all night.";
export const usedUp = (side) => `The room is used up: ${side.ends}.`;
export const roomLeft = (seconds, until, zone, side) =>
  `Room left: ${duration(seconds)}, until ${clock(until, zone)}; then ${side.ends}.`;
