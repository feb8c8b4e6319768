// The words of the evening's page: figures and codes in, sentences out.

import {
  aboveGround,
  capital,
  clock,
  compassPoint,
  countdown,
  degrees,
  duration,
  toTheSecond,
  hoursMinutes,
} from "../shared/words.js";
import { wrapH } from "../shared/clock.js";

/** @type {(iso: string, zone: string) => string} */
const at = (iso, zone) => clock(new Date(iso), zone);

// What the page does.
export const PLANNING_NIGHT = "Planning the night";
export const clockBack = (tick, zone) =>
  `Is the clock right? ${tick.name} was ticked off at ${at(tick.at, zone)}, which is later than now. What was ticked off counts all the same.`;
export const FIRST_ORDER =
  "A first order, in round minutes. The better one, with side, eyepiece, circles and room at each stop, is being sought.";
export const firstOrder = ({ stages, stops }, zone) =>
  [
    stages.length ? `Be there at ${at(stages[0].begin, zone)}.` : "",
    stops.length ? `${stops.length} stops in a first order; the plan follows.` : "",
  ]
    .filter(Boolean)
    .join(" ");
export const firstTag = (s) => (s.promised ? "promised" : "");
export const firstRow = (s) => [s.also_called[0], s.kind].filter(Boolean).join(", ");
export const PLANNING_AGAIN = "Planning again";
export const TAKING_BACK = "Taking it back";
export const NOTING = "Noting it";
export const notTicked = (name, words) => `${name ?? "A stop"} was not ticked off: ${words}`;
export const takeBack = (step) => `take back: ${step}`;
export const noDate = (text) => `${text || "That"} is no date; write it like 2026-12-05.`;
export const WHERE_ARE_CLOUDS = "Where are the clouds? Tick at least one direction.";
export const WRITE_THE_START = "Write the start like 19:30.";
export const WRITE_THE_HOURS = "Write the hours as a number above 0, up to 16.";

// What the thumb can do.
export const SKIP = "skip";
export const shown = (name) => `${name} shown`;
export const wasTicked = (name, done) => `${name} ${done ? "shown" : "skipped"}.`;
export const looked = (count) => (count === undefined ? "how many looked?" : `${count} looked`);

// What is in hand.
export const called = (s) =>
  [s.also_called[0], `${s.kind}${s.constellation ? ` in ${s.constellation}` : ""}`].filter(Boolean).join(", ");
export const settingUpUntil = (end, zone) => `Setting up, until ${at(end, zone)}`;
export const REHEARSE = "Rehearse it by day.";
export const PAGE_FOR_IT = "The page for it.";
export const afterStage = (next, stop, zone) =>
  next ? ` Next: ${next.name}.` : ` Next: ${stop.name} at ${at(stop.begin, zone)}.`;
export const beThere = (begin, zone) => `Be there at ${at(begin, zone)}`;
export const ahead = (stops, moon, zone) =>
  `${stops.length} stops, the first at ${at(stops[0].begin, zone)}, the last until ${at(stops[stops.length - 1].end, zone)}. Moon: ${moon.phase}, ${Math.round(moon.lit_fraction * 100)} % lit.`;
export const stopOf = (s, { pick, before, begun, place, count }) =>
  `${pick ? "Looked at" : before > 0 ? "Next" : begun ? "Now" : "Not begun"}: stop ${place} of ${count}${s.promised ? ", promised" : ""}`;
// The large figure of a stop, and what it counts; seconds before it begins and until it ends.
export const counted = (s, before, left, zone) =>
  before > 0
    ? [countdown(before), ` until it begins at ${at(s.begin, zone)}`]
    : left > 0
      ? [countdown(left), " left for the queue"]
      : [`+${countdown(-left)}`, " over its time"];
export const what = (s, next, t, zone) => `${capital(called(s))}. ${next ? thenComes(next, s, t, zone) : ""}`;
export const idle = (before, toFill) =>
  `${duration(before)} are free before it${toFill ? ": plan the rest from now, or" : "; nothing more is planned for them:"} show something else that is listed below. `;
export const findIt = ({ finding }) => `Find it: ${finding.words}; ${finding.eyepieces}.`;
export const STEP_BY_STEP = "Step by step.";
const thenComes = (next, s, t, zone) =>
  `Then ${next.name}${Date.parse(next.begin) > t ? "" : ", planned"} at ${at(next.begin, zone)}${next.chosen.side !== s.chosen.side ? ", the tube goes over" : ""}${next.view.eyepiece !== s.view.eyepiece ? `, eyepiece ${next.view.eyepiece}` : ""}.`;
export const timeIsOver = (name) => `The time of ${name} is over.`;
export const HOURS_OVER = "The hours are over";
export const leftOpen = ({ session }, stops, tonight, zone) =>
  `They ended at ${at(session.end, zone)}. ${stops[0].name}${stops.length > 1 ? ` and ${stops.length - 1} more were` : " was"} not ticked off.${tonight ? " Choose other hours to go on." : ""}`;
export const anew = (begun) => (begun ? "Plan the rest from now" : "Begin now");
const EMPTY = { "session over": HOURS_OVER, clouds: "Clouds hide the rest" };
export const nothingLeft = (data) =>
  data.session
    ? (EMPTY[data.empty_because] ?? (data.ticked.length ? "The evening is over" : "No stops"))
    : "No stars tonight";
export const afterAll = (data) =>
  data.session
    ? `${data.ticked.filter((x) => x.state === "done").length} shown. ${capital(data.words)} Tube off before the weights.`
    : capital(data.order.words);
export const aboutOrder = (words, own) =>
  `${capital(words)}${own ? " It is your own order; “plan again from now” finds the best one." : ""}`;

export const AS_KIT = "circles as on a perfect mount";
// An hour or more is no use (axis/unknowns.py).
const LOST_MIN = 60;
const SET_IT = "set it on a star";
const hourCircle = ({ hour, hourSigmaMin: sigma, marks }) => {
  const shown = marks === "hour angle" ? hoursMinutes(wrapH(hour), true) : hoursMinutes(hour);
  if (sigma == null) return shown;
  return sigma > LOST_MIN ? SET_IT : `${shown} ± ${sigma.toFixed(sigma < 1 ? 1 : 0)} min`;
};
const declinationCircle = ({ declination, declinationSigmaDeg: sigma }) => {
  if (sigma == null) return degrees(declination, 1, true);
  return sigma > LOST_MIN / 4 ? SET_IT : `${degrees(declination, 1, true)} ± ${degrees(sigma, sigma < 0.1 ? 2 : 1)}`;
};

// The figures of one stop: what it is, and how much.
export const figures = (s, circles, units, zone) => [
  ["tube", `side ${s.chosen.side}`],
  ["eyepiece", `${s.view.eyepiece}, ${s.view.magnification.toFixed(0)} times`],
  [circles.marks === "hour angle" ? "hour circle" : circles.marks, hourCircle(circles)],
  ...(s.set_on ? [["set it first", s.set_on.words]] : []),
  ["declination", declinationCircle(circles)],
  [
    "eye",
    `${aboveGround(s.view.height_mm, units)} high, ${s.view.face_azimuth_deg === null ? s.view.face_words : `face ${compassPoint(s.view.face_azimuth_deg)}`}: ${s.view.reach}`,
  ],
  ["nudge", nudge(s.nudge)],
  [
    "room",
    s.chosen.room_ends === null ? "all night" : `to ${at(s.chosen.room_ends, zone)}${bar(s)}: ${s.chosen.ends_by}`,
  ],
  ...(s.chosen.doubt?.words ? [["watch", s.chosen.doubt.words]] : []),
  ["view", s.view.orientation],
];
const nudge = (n) => {
  if (n.every_s === null) return n.direction;
  const turn = n.knob_turns < 0.1 ? n.knob_turns.toFixed(3) : n.knob_turns.toFixed(2);
  return `every ${toTheSecond(n.every_s)}${n.knob_turns > 0 ? `: ${turn} turn ${n.direction}` : `. ${n.direction}`}`;
};
const parts = (w) =>
  w
    ? ` Worth ${w.points.toFixed(0)} of 100: shows ${w.shows}, rewards ${w.rewards}, tonight ${w.tonight}, differs ${w.differs}, comfort ${w.comfort}.`
    : "";

export const worth = (s) => `${capital(s.visibility)}. ${s.why} ${s.why_side}${parts(s.worth)}`;

// The rows of the rule of time.
// A name that people know, beside a catalogue's number.
const known = (s) => (/^[A-Z]+ ?\d/.test(s.name) && s.also_called[0] ? `${s.also_called[0]}; ` : "");
export const SETTING_UP = "setting up";
export const tick = (t) => (t.state === "done" ? (t.visitors ? `shown to ${t.visitors}` : "shown") : "skipped");
export const tag = (s, over) =>
  [s.promised ? "promised" : "", over ? `over to ${s.chosen.side}` : ""].filter(Boolean).join(", ");
export const row = (s, number, wait, zone) =>
  `${number}: ${known(s)}side ${s.chosen.side}, ${s.view.eyepiece}; ${room(s, zone)}${wait ? `; ${duration(wait)} to wait before` : ""}`;
const room = (s, zone) =>
  s.chosen.room_ends === null ? "room all night" : `room to ${at(s.chosen.room_ends, zone)}${bar(s)}`;
// How sure a room's end is, behind its time.
const bar = (s) => s.chosen.doubt?.bar ?? "";

// What stands beside the rule.
export const NO_PLACE = "No place any more";
export const WAS_PROMISED = " It was promised.";
export const names = (lost) => `${lost.map((g) => g.name).join(", ")}.`;
export const free = (o, zone) => `free ${at(o.free_from, zone)}–${at(o.free_until, zone)}. ${o.why}`;
export const showNext = (name) => `Show ${name} next`;
export const NEXT = "next";
export const nothingElse = (session) =>
  session ? "Nothing else that is worth a stop." : "Nothing: this night has no darkness for stars.";
export const stage = (g) => `: ${g.answer}`;
export const givenUp = (g) => `${g.name}: ${g.reason}.`;
// A reason once, with all that it holds for.
export const reasonGroups = (left) => {
  const groups = new Map();
  for (const g of left) groups.set(g.reason, [...(groups.get(g.reason) ?? []), g.name]);
  return [...groups].map(([reason, names]) => givenUp({ name: names.join(", "), reason }));
};
export const hidden = (words) => `Hidden: ${words}`;
export const openAgain = (words) => `Open again: ${words}`;
export const OPEN_AGAIN = "open again";

export const LOOK_UP = "Look up, with the bare eye";
export const NOTHING_CROSSES = "No satellite of your list crosses in these hours where it can be seen.";

// The strip of the sky.
/** @type {[number, string][]} */
export const QUARTERS = [
  [0, "north"],
  [90, "east"],
  [180, "south"],
  [270, "west"],
];
export const high = (altitude) => `${altitude}°`;
export const stripOf = (stops, gone) =>
  `The skyline as a strip, and on it in their order: ${stops.map((s, i) => `${gone + i + 1} ${s.name}`).join(", ")}`;
