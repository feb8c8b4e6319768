// The words of the page about both tube sides: figures and codes in, sentences out.

import {
  aboveGround,
  capital,
  clock,
  clockFace,
  compassPoint,
  dayOf,
  degrees,
  duration,
  hoursMinutes,
  length,
} from "../shared/words.js";
import { mod, wrapH } from "../shared/clock.js";

export const LOOKING = "Looking at both sides";
export const BUILDING = "Building the rig";
export const noSideNow = (name) => [`${name}:`, " no side now"];
export const NOT_NOW = "not now";
export const ALL_NIGHT = "Room all night. ";
export const BEWARE = "beware";
export const TIME_AHEAD = "Time ahead of now";
export const NOW = "now";
export const RUN = "Let the night run";
export const STOP = "Stop";

export const ahead = (hours) => `${hours} h`;
export const nowAt = (at, zone) => `now, ${clock(at, zone)}`;
export const side = (name) => `Side ${name}`;
export const BETTER = ", better";
export const tubeOn = (object) => `${object}: tube on side `;
export const of = (object) => `${object}: `;
export const warning = (words) => capital(words);
export const firstWarning = (words) => `Beware: ${words}.`;
export const usedUp = (ends) => `The room is used up: ${ends}. `;
export const roomUntil = (room, at, zone, ends) =>
  `${duration(room)} of room, until ${clock(at, zone)}: then ${ends}. `;
export const opens = (name, at, zone) => ` Side ${name} can be used from ${clock(at, zone)}.`;

// The line over one side's picture.
export const room = (s, live, at, zone, growth) => {
  if (!s.usable) return s.opens_in_s === null ? "not within a day" : `from ${clock(at, zone)}`;
  if (s.endless) return "room all night";
  return live.out ? "no room left" : `room ${duration(live.room)}, ${degrees(live.room * growth * 15, 0)}`;
};

export const AS_KIT = "circles as on a perfect mount";

// What the person's own circles show, as they are marked and set, with their error.
const UNKNOWN = "unknown: set it on a star first";
const outOfReach = (own) => `out of reach, ${degrees(own.least_from_axis_deg, 1)} round the axis`;
const OTHER_MARKS = { "hour angle": "right ascension", "right ascension": "hour angle" };
const reading = (hours, marks) =>
  marks === "hour angle" ? hoursMinutes(wrapH(hours), true) : hoursMinutes(mod(hours, 24));
const hourCircle = (own, marks) => {
  if (!own.reached) return outOfReach(own);
  const { set_on: set } = own;
  if (own.hour_lost && !set) return UNKNOWN;
  const sigma = set?.sigma_min ?? own.hour_sigma_min,
    sidereal = own.hour_circle_h + own.right_ascension_circle_h,
    shown = set ? set.object_reading_h : marks === "hour angle" ? own.hour_circle_h : own.right_ascension_circle_h,
    other = OTHER_MARKS[marks];
  return `${reading(shown, marks)} ± ${sigma.toFixed(sigma < 1 ? 1 : 0)} min (${other} ${reading(sidereal - shown, other)})`;
};
const declinationCircle = (own) => {
  if (!own.reached) return outOfReach(own);
  if (own.declination_lost) return UNKNOWN;
  const places = own.declination_sigma_deg < 0.1 ? 2 : 1;
  const past = own.past_ninety ? ", past 90°" : "";
  return `${degrees(own.declination_circle_deg, places, true)} ± ${degrees(own.declination_sigma_deg, places)}${past}`;
};

export const assumed = (data) => [
  data.circles.state ? notedOn(data.circles.state) : NOBODY_MEASURED,
  `The view is ${data.view}; the head is held upright.`,
  "The hour circle counts for the side it stands under, or was set on; on the other side it reads 12 hours off. A declination circle that shows too much on one side shows as much too little on the other.",
  `Parts keep ${length(data.margin_mm, data.units)} apart; eyes reach from ${aboveGround(data.eye_height_min_mm, data.units)} to ${aboveGround(data.eye_height_max_mm, data.units)}.`,
  ...(data.guessed.length
    ? [`${data.guessed.length} dimensions are guessed, good to perhaps 20 %: measure those near a contact.`]
    : []),
];

const NOBODY_MEASURED =
  "The circles are those of a mount that nobody measured, ± one standard deviation without your reading of them: the axis as well as it is set, circles and tube as such mounts usually have them.";
const notedOn = (state) =>
  `The circles are this mount's own, ± one standard deviation without your reading of them, by the notes of the evening of ${dayOf(state.evening)}${
    state.stands_since ? `; the mount stands where it stood on ${dayOf(state.stands_since)}` : ""
  }.`;

// The figures of one side: what it is, and how much.
export const figures = (s, units, circles) => {
  const own = circles.sides.find((c) => c.side === s.side);
  return [
    ["hour circle", hourCircle(own, circles.hour_marks)],
    ...(own.set_on ? [["set it first", own.set_on.words]] : []),
    ["declination circle", declinationCircle(own)],
    ...others(s, units),
  ];
};
const others = (s, units) => [
  ["eyepiece", `${aboveGround(s.eyepiece_height_mm, units)} high, ${posture(s, units)}`],
  ["face", s.face_azimuth_deg === null ? "any way, it is so steep" : compassPoint(s.face_azimuth_deg)],
  ["barrel", barrel(s.barrel_altitude_deg)],
  ["weights", `hang at ${clockFace(s.weights_clock_deg)}${s.weights_up ? ", above the tube" : ""}`],
  ["nearest", s.clearance_mm < 0 ? `${s.nearest} would meet` : `${s.nearest}, ${length(s.clearance_mm, units)}`],
  ["sky drifts", `towards ${clockFace(s.view_drift_clock_deg)}`],
];
const POSTURE_WORDS = { kneel: "kneel or sit low", stoop: "sit or stoop", stand: "standing" };
const posture = (s, units) => POSTURE_WORDS[s.posture_code] ?? `a step of ${length(s.stool_mm, units)}`;
const barrel = (a) =>
  a >= 80
    ? "upright: look down into it"
    : a <= -80
      ? "hanging: look straight up"
      : Math.abs(a) < 0.5
        ? "level"
        : `${degrees(Math.abs(a), 0)} ${a > 0 ? "above" : "BELOW"} the level`;
