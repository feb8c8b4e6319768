// The words of the page about the level: figures in, sentences out.

import { length, degrees } from "../shared/words.js";

export const SHEET = "The tripod from above, the pole up the sheet";
export const READING = "Reading the level";
export const LEAVE = "leave";

export const notDegrees = (typed) => `${typed} is not a number of degrees, like 0.8 or -0.3.`;
export const toThePole = (north) => `to the pole, ${north ? "north" : "south"}`;
export const figure = (mm, atLeast, units) => `${atLeast ? "≥ " : ""}${length(Math.abs(mm), units)}`;
export const legName = (leg, mm, moved) => `leg ${leg}${moved ? (mm > 0 ? ", longer" : ", shorter") : ""}`;

export const tilt = (data) =>
  `The top leans ${data.tilt_is_lower_bound ? "at least " : ""}${degrees(data.tilt_deg, 2)} (±${degrees(data.tilt_sigma_deg, 2)}); each leg is good to ±${length(Math.max(data.leg_sigma_mm, 0.5), data.units)}. Read it again afterwards.`;

export const leftAsItIs = (left) => [
  "Tracking suffers nothing: once the axis is on the pole, a leaning base makes no drift.",
  `The latitude scale shows ${degrees(Math.abs(left.latitude_scale_shift_deg), 2)} ${left.latitude_scale_shift_deg >= 0 ? "more" : "less"} when the axis is on the pole.`,
  `One degree of the altitude bolt moves the axis ${moves(left.altitude_bolt_high_arcmin_per_deg, left.altitude_bolt_east_arcmin_per_deg)}.`,
  `One degree of the azimuth bolts moves it ${moves(left.azimuth_bolt_high_arcmin_per_deg, left.azimuth_bolt_east_arcmin_per_deg)}.`,
];
const moves = (high, east) =>
  `${Math.abs(high).toFixed(1)}′ ${high >= 0 ? "up" : "down"} and ${Math.abs(east).toFixed(1)}′ ${east >= 0 ? "east" : "west"}`;

export const bubble = (state) =>
  state.rim
    ? `Bubble at the rim, ${Math.round(state.towards)} degrees clockwise from the pole`
    : `Bubble ${state.divisions.toFixed(1)} divisions out, ${Math.round(state.towards)} degrees clockwise from the pole`;
