// The words of the page about the record: entries and figures in, sentences out.

import { capital, clock, day, duration } from "../shared/words.js";

export const OPENING = "Opening the logbook";
export const WRITING = "Writing it down";
export const WRITTEN = "Written down.";
export const KEPT = "Kept here; it is written down when the link returns.";
export const NONE_YET = "None yet: the first tick or note begins one.";
export const NO_BOLTS = "Nothing yet: measure the axis, turn a bolt, say so, and measure again.";
export const EMPTY = "An empty book";
export const EMPTY_BECAUSE = "The first stop that is ticked off, or the first note, begins its first page.";
export const EMPTY_PAGE = "Nothing is written on this page yet.";
export const PRESS = "Press an entry to take it out, if it was a mistake.";
export const TAKE = "take it out";
export const LEAVE = "leave it";
export const TAKEN = "Taken out.";
export const NOTHING = "There is nothing to write down yet.";
export const NOT_FOUND = "Nothing in the book holds these words";
export const ALL_HERE = "Everything in it was here already.";

const plural = (n, one, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;
export const month = (t, year) =>
  `${new Intl.DateTimeFormat("en-GB", { month: "short", timeZone: "UTC" }).format(t)}${year ? ` ${new Date(t).getUTCFullYear()}` : ""}`;

export const noteFor = (own, begun) =>
  own ? `A note for ${day(own.date, false)}` : `A note for tonight${begun ? "" : ", which begins its page"}`;
export const counts = (e) =>
  [e.done ? `${e.done} shown` : "", e.skipped ? `${e.skipped} skipped` : "", e.notes ? plural(e.notes, "note") : ""]
    .filter(Boolean)
    .join(", ") || "nothing yet";
export const lineOf = (e) => `${e.site}: ${counts(e)}`;
export const turnsADegree = (bolt) => `${bolt.turns_per_degree.toFixed(2)} turns a degree`;
export const boltOf = (name, bolt) =>
  `${{ altitude: "altitude bolt", azimuth: "azimuth bolts" }[name]}, ±${bolt.sigma.toFixed(2)}, from ${plural(bolt.count, "turn")}`;

export const since = (date) => `Since ${day(date)}`;
export const evenings = (n) => plural(n, "evening");
export const shown = (n, last) => `${plural(n, "object")} shown; the last time on ${day(last)}.`;
export const sheet = (n, first, last) => `${plural(n, "evening")} from ${day(first)} to ${day(last)}`;
export const legend = (most) => `A tooth an evening; at most ${plural(most, "object")}.`;

const METHODS = { readings: "circle readings" };
const arcmin = (v) => `${Math.abs(v) < 1 ? v.toFixed(2) : v.toFixed(1)}′`;
const turns = (v, name) =>
  v ? `${name} ${Math.abs(v).toFixed(2)} turns ${v > 0 ? "clockwise" : "anticlockwise"}` : "";
const skyOf = (e) =>
  [
    e.seeing_arcsec ? `seeing ${e.seeing_arcsec}″` : "",
    e.naked_eye_limit_mag !== null ? `faintest star ${e.naked_eye_limit_mag} mag` : "",
    e.sky_brightness_mag_arcsec2 ? `${e.sky_brightness_mag_arcsec2} mag per square arcsecond` : "",
    e.words,
  ]
    .filter(Boolean)
    .join(", ");
export function entry(e) {
  if (e.kind === "stop")
    return {
      title: e.object,
      tag: e.state === "done" ? (e.visitors === null ? "shown" : `shown to ${e.visitors}`) : "skipped",
      under: e.note,
    };
  if (e.kind === "note") return { title: e.text, under: "note" };
  if (e.kind === "conditions") return { title: skyOf(e), under: "the sky" };
  if (e.kind === "found")
    return {
      title: e.object,
      tag: e.found ? "found" : "not found",
      under: `by ${e.ways.join(", then ")}${e.minutes === null ? "" : `, ${duration(60 * e.minutes)}`}`,
    };
  if (e.kind === "rig_work")
    return { title: e.work === "set_up" ? "Set up" : "Taken down", under: `in ${duration(60 * e.minutes)}` };
  if (e.kind === "bolt_turn")
    return {
      title: "Bolts turned",
      under: [turns(e.altitude_turns, "altitude"), turns(e.azimuth_turns, "azimuth")].filter(Boolean).join(", "),
    };
  return {
    title: `Axis ${arcmin(e.total_arcmin)} off`,
    under: `${e.total_sigma_arcmin === null ? "" : `±${arcmin(e.total_sigma_arcmin)}, `}by ${METHODS[e.method] ?? e.method}`,
  };
}
export const countsOf = (own) => `${capital(counts(own))}.`;
export function axisOf(axis) {
  const before = axis[0],
    after = axis[axis.length - 1];
  if (!axis.length) return "";
  if (axis.length === 1) return ` The axis stood ${arcmin(before.total_arcmin)} off the pole.`;
  return ` The axis went from ${arcmin(before.total_arcmin)} off the pole to ${arcmin(after.total_arcmin)}.`;
}
export const planned = (n, kit) => (n ? ` Planned were ${n} stops with kit ${kit}.` : "");
export const takeOut = (title) => `Take “${title}” out of the book?`;

export const notANumber = (text) => `${text} is not a number.`;
export const found = (n, more) => (n ? `${n}${more ? ` of ${n + more}` : ""} found` : NOT_FOUND);
const KINDS = { stop: "stop", note: "note", conditions: "conditions" };
export const foundIn = (f) => `${KINDS[f.what]}, ${day(f.date)}, ${f.site}`;
export const tooLarge = (name, most) => `${name} is too large for a logbook: at most ${most / 1000000} MB.`;
export const notOurs = (name) => `${name} is not a file that Axletree wrote for a logbook.`;
export const TOO_LARGE_PART = "is too large";
export const refusedPart = (read, all, number, problem) =>
  `${plural(read, "evening")} of ${all} read in; evening ${number} was refused: ${problem}`;
export const added = (n, all) =>
  n ? `${plural(n, "new entry", "new entries")} from ${plural(all, "evening")}.` : ALL_HERE;
export const notWritten = (problem) => `Not written down: ${problem}`;

// By what was moved: what the button says, and what is said when it was noted.
export const MOVED = {
  bolt: ["a bolt", "A bolt was turned: the axis as it was measured counts no more."],
  tripod: ["the tripod", "The tripod moved: the axis as it was measured counts no more."],
  hour_circle: ["hour circle set", "The hour circle was set: its own error counts no more."],
  declination_circle: ["declination circle set", "The declination circle was set: its own error counts no more."],
  tube: ["tube clamped again", "The tube was clamped again: its cone counts no more."],
  stands: [
    "nothing: the mount stands where it stood",
    "The mount stands where it stood: what was known of its axis counts tonight too.",
  ],
};
const DONE = {
  bolt: "a bolt was turned",
  tripod: "the tripod moved",
  hour_circle: "the hour circle was set",
  declination_circle: "the declination circle was set",
  tube: "the tube was clamped again",
};
export const movedAt = (one, zone) =>
  `${clock(new Date(one.at), zone)}: ${DONE[one.moved_code] ?? "the mount stands where it stood"}`;
export const TAKE_BACK = "take it back";
export const takeBackOf = (words) => `${TAKE_BACK}: ${words}`;

export const GAP_NOTED = "Noted: the rig’s lengths follow from it, and its rooms with them.";
export const GAP_OBJECT = "Which object stood in the eyepiece then?";
export const GAP_SIDE = "On which side of the mount hung the tube?";
