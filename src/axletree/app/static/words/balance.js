// The words of the page about balance: figures in, sentences out.

import { capital, fixed, KG_PER_POUND, length, mass } from "../shared/words.js";

export const BALANCING = "Balancing";
export const TUBE = "tube";
export const FRONT = "front, to the sky";
export const HOLD = "Hold it level again";
export const OPEN = "Open the lock";
export const FULL = "There is no room left on the shaft.";

const nm = (value) => `${Math.abs(value).toFixed(2)} N·m`;
const SINKS = {
  hour: { tube: "the tube sinks", weights: "the weights sink" },
  declination: { front: "the front sinks", back: "the back sinks" },
};

export const sheet = (axis) =>
  axis === "hour"
    ? "The shaft with its weights, seen along the polar axis, level"
    : "The tube on the saddle, from the side, level";
export const shaftRuler = (units) => `${units === "us" ? "inches" : "mm"} from the start of the shaft`;
export const tubeRuler = (units) => `${units === "us" ? "inches" : "mm"} from the front of the tube`;
export const massFigure = (kg, units) => fixed(units === "us" ? kg / KG_PER_POUND : kg, 1);
export const weightHandle = (kg, gapMm, units) =>
  `Weight of ${mass(kg, units)}, ${length(gapMm, units)} from the start of the shaft`;
export const tubeHandle = (overMm, units) => `Tube, ${length(overMm, units)} from its front over the saddle`;

// The large line of the answer, in parts: [what, its small words].
export const sinks = (axis, end, torqueNm) => [capital(SINKS[axis][end]), ` with ${nm(torqueNm)}`];
export const tubeAt = (overMm, units) => [length(overMm, units), "tube's front to saddle"];
export const weightAt = (gapMm, kg, units) => [length(gapMm, units), `for ${mass(kg, units)},`];
export const FROM_START = "from the shaft's start";

export const stays = (torqueNm) =>
  `It stays where it is: ${nm(torqueNm)} is no more than an opened axis holds by itself.`;
export const NO_WEIGHT = "There is no weight on the shaft.";
export const slideWeights = (count, outwardMm, units) =>
  `Slide ${count > 1 ? "the weights" : "the weight"} ${length(Math.abs(outwardMm), units)} ${outwardMm > 0 ? "outwards" : "towards the head"}.`;
export const slideTube = (toTheBackMm, units) =>
  `Slide the tube ${length(Math.abs(toTheBackMm), units)} ${toTheBackMm > 0 ? "towards its back" : "towards the sky"}.`;

export const weightPlace = (weight, units) => [
  mass(weight.mass_kg, units),
  `${length(weight.gap_mm, units)} from the start of the shaft to its near face`,
];
export const tubePlace = (data) => [
  "Tube",
  `${length(data.tube_balance_from_front_mm, data.units)} from its front over the declination axis`,
];
export const missing = (kg, units) => `${mass(kg, units)} more at the shaft's end would balance it.`;
export const dovetailShort = (mm, units) =>
  `The dovetail is ${length(Math.abs(mm), units)} too short to balance the tube.`;

export const leftOver = (data) => [
  `Hour axis ${nm(data.hour_axis_torque_nm)}, declination axis ${nm(data.declination_axis_torque_nm)}.`,
  `Crosswise ${nm(data.crosswise.torque_nm)} that no sliding takes away${data.crosswise.trim_mass_kg ? `; ${mass(data.crosswise.trim_mass_kg, data.units)} on the light side trims it` : ""}.`,
  ...data.swaps.map((s) =>
    Math.abs(s.tube_slide_mm) < 0.5
      ? `With ${s.eyepiece}: leave the tube where it is.`
      : `With ${s.eyepiece}: slide the tube ${length(Math.abs(s.tube_slide_mm), data.units)} ${s.tube_slide_mm >= 0 ? "forward" : "back"}.`,
  ),
];

export const stand = (data) => [
  `The mount carries ${mass(data.load.carried_kg, data.units)} of its ${mass(data.load.limit_kg, data.units)}.`,
  ...(data.tipping.push_n ? [push(data.tipping)] : []),
  `Its centre of mass stays ${length(data.tipping.margin_mm, data.units)} inside the feet; it falls when it leans by ${data.tipping.lean_deg.toFixed(0)}°.`,
];
const push = (tipping) =>
  `A push of ${tipping.push_n.toFixed(0)} ± ${tipping.push_sigma_n.toFixed(0)} N at the eyepiece tips it${tipping.too_easy ? `; a leaning child can push with ${tipping.push_wanted_n.toFixed(0)} N` : ""}.`;
