// The words of the page on which an evening is rehearsed: codes and figures in, sentences out.

import { aboveGround, axisError, clock, toTheSecond } from "../shared/words.js";

export const PUTTING_TOGETHER = "Putting the evening together";
export const PLAY = "Play";
export const STOP = "Stop";
export const NOTHING = "Nothing to rehearse";
export const HOLD = "hold";
export const LOCKS = "locks";
export const WEIGHTS = "weights";
const LOCK = { hour: "hour axis", declination: "declination axis" };
export const axisFree = ({ lock, driven }) => `${LOCK[lock]} ${driven ? "turns" : "open"}`;
export const locks = ({ lock, driven }) => (lock && !driven ? `${LOCK[lock]} open, the other shut` : "both shut");
export const when = (step, place, count, zone) =>
  `${step.chapter}: step ${place} of ${count}, ${clock(new Date(step.begin), zone)}`;
// Where the weights hang, by how far their shaft is turned from straight down (hours, west positive).
export const weights = (tubeEndH) => {
  const h = Math.abs(tubeEndH);
  if (h < 0.25) return "hang straight down";
  if (h > 6) return "above the tube";
  return `${Math.round(h * 15)}° up from hanging, on the ${tubeEndH > 0 ? "east" : "west"}`;
};
export const eyeHigh = (mm, units) => aboveGround(mm, units);
export const RIG_FROM = { east: "The rig seen from the east", behind: "The rig seen from behind, towards the pole" };
export const SEEN_FROM = { east: "seen from the east", behind: "seen from behind, towards the pole" };
export const ends = (from, sense) =>
  from === "east" ? ["south", "north"] : sense > 0 ? ["west", "east"] : ["east", "west"];

/** @type {[string, string][]} */
export const PACES = [
  ["0.5", "half as fast as hands"],
  ["1", "as fast as hands"],
  ["4", "four times"],
  ["16", "sixteen times"],
];

// The room of a stop as a bar.
export const ROOM_OF = "The stop's time and its room";
export const stopTo = (iso, zone) => `stop to ${clock(new Date(iso), zone)}`;
export const roomTo = (room, zone) =>
  room.room_ends === null
    ? "room all night"
    : `room to ${clock(new Date(room.room_ends), zone)}${room.doubt ? room.doubt.bar : ""}`;
export const touchFrom = (iso, zone) => `may touch from ${clock(new Date(iso), zone)}`;

// The axis beside its pole.
export const AIM = "Where the axis points, beside the pole";
export const POLE = "pole";
export const AXIS = "axis";
export const offBy = (arcmin) => axisError(Math.abs(arcmin));
const BOLT = {
  altitude: "altitude bolt",
  azimuth: "azimuth bolt",
  "east azimuth": "east azimuth bolt",
  "west azimuth": "west azimuth bolt",
};
export const boltTurn = (bolt) => `${BOLT[bolt.code]}: ${bolt.turns.toFixed(2)} turns`;
export const knobTurn = (knob) =>
  `hour knob: ${knob.turns.toFixed(knob.turns < 0.1 ? 3 : 2)} turn, every ${toTheSecond(knob.every_s)}`;
