// The words of the phone's sheet: figures and codes in, sentences out.

import { mod } from "./clock.js";
import {
  aboveGround,
  capital,
  clock,
  clockFace,
  compassPoint,
  countdown,
  degrees,
  dialHour,
  dialPlace,
  duration,
  hoursMinutes,
} from "./words.js";

/** @type {(at: number) => Date} seconds since 1970 */
const moment = (at) => new Date(at * 1000);
const at = (time, zone) => clock(moment(time), zone);

// Of the whole sheet.
export const BACK_TO_NOW = "Back to now";
export const LOOK_THROUGH = "Look through it";
export const unknownZone = (zone) => `This browser does not know the time zone ${zone}: times are UTC.`;
export const longDate = (time, zone) =>
  new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    weekday: "long",
    day: "numeric",
    month: "long",
    year: "numeric",
  }).format(moment(time));
export const shownAsAt = (time, zone) => `Not the real time: shown as at ${at(time, zone)} on ${longDate(time, zone)}.`;
export const otherNight = (night, now, zone) =>
  `This sheet is for the night of ${longDate(night, zone)}; by this phone it is ${longDate(now, zone)}. Times, room and pole star are right for that night only.`;
export const clockSetByYou = (offset) => `Clock set by you: the phone is ${offWords(offset)} ${slowOrFast(offset)}.`;
export const nowIs = (title) => `Now: ${title}`;
export const offWords = (s) => {
  const a = Math.abs(Math.round(s));
  return `${a >= 60 ? `${Math.floor(a / 60)} min ` : ""}${a % 60} s`;
};
const slowOrFast = (offset) => (offset > 0 ? "slow" : "fast");

// Of what is kept on the phone.
export const KEPT = "Kept on this phone, with this file, until the browser's data are cleared.";
export const KEEPS_NOTHING =
  "This browser keeps nothing for a file: ticks and notes live only while this page is open. Export them before you close it.";
export const STORE_FULL =
  "The phone's store is full: what you enter from now on lives only while this page is open. Export it.";

// Of the thing in hand.
export const ALL_NIGHT = "all night";
export const NO_LONGER_SHOWS = "it no longer shows";
export const IN_HAND = {
  tube: "tube",
  eyepiece: "eyepiece",
  declination: "declination",
  room: "Room ",
  next: "Next ",
  nudge: "Nudge every ",
};
// Of finding it.
export const NORTH_MARK = "N";
export const findWords = ({ words, eyepieces }) => `Find it: ${words}; ${eyepieces}.`;
export const wayOfOtherSide = (side) =>
  `The way was worked out for tube ${side}: start from a bright star by the circles.`;
const through = (view) =>
  ({ finder: "finder", plain_sight: "sight", bare_eye: "bare eye" })[view.instrument] ?? view.label;
const wide = (deg) => (deg < 1 ? `${Math.round(deg * 60)}′` : `${+deg.toFixed(1)}°`);
export const fieldBelow = (view) => `${through(view)}, ${wide(view.field_deg)}`;
export const fieldTitle = (view, northDeg) => `${fieldBelow(view)}: north is ${atDial(northDeg)}`;
export const called = (thing) =>
  [
    ...thing.also_called,
    // Nobody has to be told that the Moon is a moon.
    thing.kind === thing.name.toLowerCase()
      ? ""
      : thing.kind + (thing.constellation ? ` in ${thing.constellation}` : ""),
  ]
    .filter(Boolean)
    .join(", ");
// Long waits are told in days.
export const wait = (s) => (s > 172800 ? `${Math.floor(s / 86400)} days` : countdown(s));
export const late = (s) => `+${wait(s)}`;
const onDial = (deg) => `${clockFace(deg)} on the dial`;
const atDial = (deg) => `${dialPlace((((deg % 360) + 360) % 360) / 30)} on the dial`;
export const roomTitle = (left) => `Room: ${Number.isFinite(left) ? duration(left) : ALL_NIGHT}`;
export const stopOf = (place, count) => (place < 0 ? "Put in by you" : `Stop ${place + 1} of ${count}`);
export const untilItBegins = (start, zone) => `until it begins at ${at(start, zone)}`;
export const LEFT_FOR_QUEUE = "left for the queue";
export const OVER_ITS_TIME = "over its time";
export const atWhen = (time, zone) => ` at ${at(time, zone)}`;
// Both circles: of this mount with their error, where something is known of it (an hour or more is
// no use: axis/unknowns.py).
const LOST_MIN = 60;
const SET_IT = "set it on a star";
// The hour circle as it is marked (axis/marks.py).
const hourReading = (hour, marks, sidereal) =>
  marks === "hour angle" ? hoursMinutes(hour, true) : hoursMinutes(mod(sidereal - hour, 24));
// Each circle in two parts: the reading, large, and its error.
export const circles = (place, own, marks, sidereal) => {
  if (!own)
    return {
      hour: [hourReading(place.hourCircleH, marks, sidereal), ""],
      declination: [degrees(place.declinationCircleDeg, 1, true), ""],
    };
  const { hourH, hourSigmaMin, declinationDeg, declinationSigmaDeg } = own;
  const places = declinationSigmaDeg < 0.1 ? 2 : 1;
  return {
    hour:
      hourSigmaMin > LOST_MIN
        ? ["", SET_IT]
        : [hourReading(hourH, marks, sidereal), ` ± ${hourSigmaMin.toFixed(hourSigmaMin < 1 ? 1 : 0)} min`],
    declination:
      declinationSigmaDeg > LOST_MIN / 4
        ? ["", SET_IT]
        : [degrees(declinationDeg, 1, true), ` ± ${degrees(declinationSigmaDeg, places)}`],
  };
};
export const hourCircle = (when, marks) => `${marks === "hour angle" ? "hour circle" : marks}${when}`;
export const face = (deg) => (deg === null ? "any way, looking down" : `face ${compassPoint(deg)}`);
export const height = (eye, units) => aboveGround(eye.heightMm, units);
export const upFacing = (eye) => ` up, ${face(eye.faceDeg)}: ${eye.posture}.`;
export const roomLeft = (until, left) => (until === Infinity ? ALL_NIGHT : left > 0 ? duration(left) : "none");
export const roomTo = (row, zone) =>
  row.until === Infinity
    ? ""
    : ` to ${at(row.until, zone)}${row.bar ?? ""}: ${row.endsBy}.${row.touch ? ` ${row.touch}` : ""}`;
export const showsUntil = (shows, zone) =>
  `It shows until ${at(shows, zone)}; then it is too low, or the sky too light.`;
export const stands = (place, eye, view, picture) =>
  `It stands ${degrees(place.altitudeDeg, 0)} high in the ${compassPoint(place.azimuthDeg)}. The picture is ${picture}; north is ${atDial(eye.northDeg)}, and it drifts to ${onDial(eye.driftDeg)}. ${Math.round(view.magnification)} times, field ${degrees(view.true_field_deg, 2)}, exit pupil ${view.exit_pupil_mm.toFixed(1)} mm.`;
export const NOTHING_AFTER = "Nothing comes after this one.";
export const changesTo = (next, row, then, thing) => {
  const turns = [];
  if (next.side !== row.side) turns.push(`the tube goes over to side ${next.side}`);
  if (then.view.eyepiece !== thing.view.eyepiece) turns.push(`eyepiece ${then.view.eyepiece}`);
  return turns.length ? `: ${turns.join(", ")}.` : "; side and eyepiece stay.";
};
export const roomEndsBefore = (row, zone) =>
  `The room ends at ${at(row.until, zone)}, before this stop does: ${row.endsBy}.`;
export const TURN_NOT_COMPUTED =
  "The turn to here was not computed in this order: turn slowly, and watch tube, legs and cables.";
export const sunIsUp = (sunset, zone) => `The Sun is up until ${clock(new Date(sunset), zone)}: caps on.`;
export const BEYOND_HOURS = "This is beyond the hours that were computed; figures are carried on from the last ones.";
export const nudgeTurn = (nudge) =>
  nudge.knob_turns > 0
    ? `: ${nudge.knob_turns < 0.1 ? nudge.knob_turns.toFixed(3) : nudge.knob_turns.toFixed(2)} turn ${nudge.direction}`
    : `: ${nudge.direction}`;
export const stageOf = (index, count) => `Setting up, step ${index + 1} of ${count}`;
export const untilStage = (from, zone) => `until ${at(from, zone)}, when it should begin`;
export const LEFT_FOR_IT = "left for it";
export const LATER_THAN_PLANNED = "later than planned";
export const meanwhile = (stage) => `Meanwhile: ${stage.answer}`;
export const afterStage = (next, first, zone) =>
  next
    ? `${next.name} at ${at(next.from, zone)}`
    : first
      ? `the first stop at ${at(first, zone)}`
      : "nothing: this night has no stops";
export const THE_EVENING = "The evening";
export const NO_STOP_LEFT = "No stop is left";
export const NO_STOPS = "No stops";
export const WHEN_OVER =
  "What else could be shown stands under 'order'. Write the file for the laptop under 'notes' before you go.";
// What the thumb can do: the label, and what stands small before it.
export const ACTS = {
  all: ["set up", "all is"],
  done: "done:",
  skip: "skip",
  looked: "looked:",
  nudged: "nudged",
  shown: "shown",
};

// Of the order.
export const room = (until, zone) => (until === Infinity ? "room all night" : `room to ${at(until, zone)}`);
export const losesRoom = (names) => `Then ${names.join(", ")} ${names.length === 1 ? "has" : "have"} no room any more.`;
export const refusal = (name, lost, zone) =>
  lost.latest === null
    ? `${name} has no room tonight.`
    : `${name} would begin at ${at(lost.arrive, zone)}, but must begin by ${at(lost.latest, zone)}: it needs ${duration(lost.queue)}, and at ${at(lost.until, zone)} ${lost.endsBy}.`;
export const DO_IT = "Do it";
export const LEAVE_IT = "Leave it";
export const GOOD = "Good";
export const TAKE_NOW = "take it now";
export const EARLIER = "earlier";
export const LATER = "later";
export const FIVE_MORE = "5 min more";
export const OTHER_SIDE = "other side";
export const LEAVE_OUT = "leave it out";
export const PUT_NEXT = "put it next";
export const WAS_SHOWN = "it was shown";
export const noLonger = (row, zone) =>
  row.shows < row.until
    ? `It shows until ${at(row.shows, zone)} only.`
    : `Its room ends at ${at(row.until, zone)}: ${row.endsBy}.`;
export const sideFull = (side) => `Side ${side} has no room for the whole queue.`;
export const rowWords = (row, thing, zone) =>
  `tube ${row.side}, ${thing.view.eyepiece}, ${room(row.until, zone)}${row.wait > 90 ? `; ${duration(row.wait)} to wait` : ""}`;
export const spare = (thing, chance, soon, zone) =>
  `${thing.kind}; ${chance ? `tube ${chance.side}, ${soon ? `from ${at(chance.from, zone)}, ` : ""}${room(chance.until, zone)}` : "no room any more tonight"}`;
export const orderTitle = (byClock) => (byClock ? "The order, by the clock" : "The order, from your last tick");
export const SETTING_UP = "Setting up";
export const THE_STOPS = "The stops";
export const lastEnds = (end, byClock, order, zone) =>
  `The last of them ends at ${at(end, zone)}. ${byClock ? capital(order) : "This order is your own."}`;
export const NO_ROOM_IN_ORDER = "No room any more in this order";
export const TICKED = "Ticked";
export const tick = (entry) =>
  entry.state === "done" ? `shown${entry.visitors ? ` to ${entry.visitors}` : ""}` : "skipped";
export const PASSED = "Passed or left out, not ticked";
export const AS_WELL = "Could be shown as well";

// Of the pole.
const LOOK = {
  erect: "as the bare eye sees it",
  inverted: "upside down, as it is seen there",
  mirrored: "mirrored, as it is seen there",
};
const stillPoint = (point) =>
  `the still point of ${point.through === "finder" ? "the finder" : `the ${point.eyepiece} eyepiece`}`;
export const alongAxis = (star) => `${star} in the view along the axis`;
export const dialTitle = (view, whole) =>
  whole
    ? `The whole field along the axis, ${view.field_deg.toFixed(0)} degrees wide`
    : `${alongAxis(view.star)}, on a dial with twelve at the top`;
export const onTheFace = (away, point) =>
  `on the dial, ${away.toFixed(1)}′ from ${point ? stillPoint(point) : "the middle"}`;
export const STILL_POINT =
  "Swing the hour axis a quarter turn: the point that keeps its place in the field is the axis.";
export const POLE_HIDDEN = "From here the pole star is behind the skyline: finish with the drift of two stars.";
export const LATITUDE_SCALE = "latitude scale";
export const POLE_HEIGHT = "pole's height";
export const pictureOf = (view) =>
  `Twelve is up; the picture is ${LOOK[view.look]}${view.rotation_deg ? `, turned by ${view.rotation_deg}°` : ""}. The small rings are its places in one and in two hours.`;
export const wholeField = (view) => `The whole field, ${view.field_deg.toFixed(0)}° wide, to know it by`;
export const guide = (name, hour) => `${name} lies from the pole towards ${dialHour(hour)} in this picture.`;

// Of the notes.
export const REMARKS = [
  "clear",
  "thin cloud",
  "cloud",
  "wind",
  "haze",
  "dew",
  "stars stand still",
  "stars boil",
  "stray light",
  "a crowd",
];
export const NOTES = "Notes";
export const FILE_AS_TEXT = "The file as text";
export const OWN_WORDS = "In your own words. The phone's keyboard is not red: shade it.";
export const KEEP = "Keep";
export const KEPT_SO_FAR = "Kept so far";
export const FOR_THE_LAPTOP = "For the laptop";
export const HOW_TO_CARRY =
  "Write the file before you close this page, copy it to the laptop, and there: axletree log import FILE. Reading it twice doubles nothing; what you change after writing it is added only as new notes.";
export const WRITE_THE_FILE = "Write the file";
export const SHOW_AS_TEXT = "Show it as text";
export const TAKE_BACK = "Take back the last step";

// Of the clock.
export const STEPS = [
  [-60, "−1 min"],
  [-10, "−10 s"],
  [-1, "−1 s"],
  [1, "+1 s"],
  [10, "+10 s"],
  [60, "+1 min"],
];
export const WRITE_A_TIME = "Write it as 20:15 or 20:15:00.";
export const KEEP_SCREEN_ON = "Keep the screen on";
export const SCREEN_STAYS_ON = "The screen stays on";
export const NOT_ALLOWED = "This browser does not allow it";
export const tapping = (on) => (on ? "Stop tapping the nudges" : "Tap the nudges");
export const THE_CLOCK = "The clock";
export const GOOD_CLOCK = "What a good clock shows now";
export const SET = "Set";
export const PHONES_OWN = "Back to the phone's own";
export const OTHER_TIME = "See the sheet as at another time of this night";
export const LOOK_AHEAD = "Look ahead";
export const offBy = (offset) =>
  offset === 0
    ? "By the phone's own clock. If it is off, say by how much."
    : `The phone's own clock is ${offWords(offset)} ${slowOrFast(offset)}, as you said.`;
export const SIDEREAL_TIME = "Sidereal time ";
export const ON_MERIDIAN = ": the right ascension that stands on the meridian.";

// Of the rig's picture.
export const SEEN_FROM = { east: "seen from the east", behind: "seen from behind, looking to the pole" };
export const rigSeen = (from) => `The rig ${SEEN_FROM[from]}`;
export const RIG_IN_POSE = "The rig in its pose; a finger walks around it";
export const otherView = (flat) => (flat ? "Show it in depth" : "Show it from the side and from behind");
