// The words of the page about the axis error: figures in, sentences out.

import { axisError, capital, clock, compassPoint, countdown, degrees, duration } from "../shared/words.js";

const minutes = (a) => `${a < 1 ? a.toFixed(2) : a < 100 ? a.toFixed(1) : a.toFixed(0)}′`;

export const READING = "Reading what was measured";
export const MEASURING = "Measuring";
export const NEXT = "Next";
export const NEXT_AND_SEE = "Next, and at the eyepiece";
export const NONE_YET = "None yet.";
export const ONE_DIRECTION = ["One more star:", "one direction is known"];
export const HOW = {
  drift: "Keep the star in the middle by the hour knob or drive alone, and see how far it drifts north or south.",
  readings:
    "Put a star in the middle and read both circles as they are. Three stars tell the axis; more tell the circles' own errors.",
};

export const STAR = "Star";
export const TELLS_MOST = " (tells most)";
export const BEGAN_AT = "Began at";
export const WATCHED = "Watched, seconds";
export const HOW_FAR = "How far it went";
export const ARCSECONDS = "arcseconds";
export const DIVISIONS = "reticle divisions";
export const TO_THE_EDGE = "from the middle to the edge of the field";
export const DRIFT_ARCSECONDS = "Drift, arcseconds";
export const DRIFT_DIVISIONS = "Drift, divisions";
export const ONE_DIVISION = "One division, arcseconds";
export const EYEPIECE = "Eyepiece";
export const IT_WENT = "It went";
export const NORTH_IS = "North in the eyepiece is";
export const READ_AT = "Read at";
export const TUBE_HANGS = "The tube hangs";
export const HOUR_CIRCLE = "Hour circle, growing to the west";
export const DECLINATION_CIRCLE = "Declination circle, degrees";
export const DIRECTIONS = {
  north: "north",
  south: "south",
  east: "east",
  west: "west",
  up: "up",
  down: "down",
  left: "left",
  right: "right",
};
export const KEPT_HERE = "Kept here; measured when the link returns.";
export const ONE_READING = "One reading fixes nothing yet: read another star, or this one on the other tube side.";
export const TAKE_OUT = "take out";
export const WHICH_STAR = "Which star? Its name is enough.";
export const HOW_LONG = "How long was it watched?";

export const begin = (next) =>
  next ? [`${next.star}:`, `watch it for ${duration(next.watch_s)}`] : ["No star:", "it is not dark enough"];
export const nothingYet = (lastTurn, zone) =>
  lastTurn
    ? `Nothing measured since a bolt was turned at ${clock(new Date(lastTurn), zone)}.`
    : "Nothing is measured yet.";
export const off = (data) => [minutes(data.total_arcmin), `± ${minutes(data.total_sigma_arcmin)} off the pole`];
export const beforeTurn = (count) =>
  `${count} made before the last turn of a bolt ${count === 1 ? "doesn't" : "don't"} count any more.`;
export const turns = (v) => `${v < 0 ? "−" : "+"}${Math.abs(v).toFixed(2)}`;
export const notTurns = (typed) => `${typed} is not a number of turns, like 0.5 or −0.25.`;
export const eyepiece = (e) => `${e.name}, ${e.field_arcmin.toFixed(0)}′`;
export const stands = (star) => `, ${degrees(star.altitude_deg, 0)} high in the ${compassPoint(star.azimuth_deg)}`;
export const startWatch = (wanted) => `Start the watch; ${duration(wanted)} is enough`;
export const stopWatch = (seconds) => `Stop the watch: ${countdown(seconds)}`;

export const measurement = (m, zone) =>
  `${m.method === "readings" ? "Circle readings" : capital(m.method)}, ${clock(new Date(m.at), zone)}: ${estimate(m)}${m.left_out ? "; contradicts the others and is left out" : ""}.`;
const estimate = (m) =>
  m.rank === 2
    ? `${minutes(Math.abs(m.high_arcmin))} ± ${minutes(m.high_sigma_arcmin)} ${m.high_arcmin >= 0 ? "high" : "low"}, ${minutes(Math.abs(m.east_arcmin))} ± ${minutes(m.east_sigma_arcmin)} ${m.east_arcmin >= 0 ? "east" : "west"}`
    : "one direction only";

export const row = (r) =>
  r.hour_circle_h !== undefined || r.tube_side
    ? `${r.star ?? ""}, ${r.read_at}: side ${r.tube_side}, hour circle ${r.hour_circle_h}, declination ${r.declination_circle_deg}°`
    : `${r.star ?? ""}, ${r.started ?? ""}, ${r.watched_s} s: ${r.drift_arcsec !== undefined ? `${r.drift_arcsec}″` : r.divisions !== undefined ? `${r.divisions} divisions` : "middle to edge"} ${r.towards ?? ""}`;
export const takeOut = (r) => `Take out ${row(r)}`;

// What stands on the drawing.
export const sheet = {
  title: (now, good) =>
    now
      ? `The axis stands ${now.high >= 0 ? "above" : "below"} and ${now.east >= 0 ? "east" : "west"} of the pole; good enough is within ${good.toFixed(1)} arcminutes`
      : `Nothing measured yet; good enough is within ${good.toFixed(1)} arcminutes of the pole`,
  EAST: "east",
  WEST: "west",
  HIGH: "high",
  LOW: "low",
  SCALE: "arcminutes from the pole",
  BEFORE: "before",
  good: (good, onSheet) => `good enough: ${axisError(good)}${onSheet ? "" : ", beyond this sheet"}`,
};
