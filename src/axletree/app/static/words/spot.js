// The words of the page about the tripod's place: figures and codes in, sentences out.

import { degrees } from "../shared/words.js";

export const SHEET = "The yard from above; what is brass can be moved";
export const JUDGING = "Judging every place";
export const KEEPING = "Keeping";
export const KEPT = "Kept in the kit.";
export const ACROSS = " across, ";
export const UP = " up the plan";
export const NORTH = "north";
export const THE_GROUND = "The ground";
export const KEPT_FREE = "A place kept free";
export const TAKE_AWAY = "take it away";
export const DRAG = "Drag what is brass: the corners of the area, trees, walls, roofs. Touch a place to ask about it.";
export const BEGIN =
  "The kit has no yard plan yet. Measure from one corner with a tape: drag the corners of the area to where a tripod may stand, add what stands around it.";
// What a new obstacle is called in the kit until it gets a name.
export const NAMES = { tree: "tree", post: "post", wall: "wall", roof: "building" };
export const FIELDS = {
  name: "What it is",
  height_m: "Height",
  crown_radius_m: "Crown, half its width",
  crown_base_m: "Ground to the crown",
  trunk_radius_m: "Trunk, half its width",
  eaves_height_m: "Height of the eaves",
  ridge_height_m: "Height of the ridge",
  radius_m: "Half its width",
  slope_percent: "The ground falls, per cent",
  downhill_azimuth_deg: "towards azimuth",
};

/** @type {(m: number, units: string) => string} */
export const metres = (m, units) => (units === "us" ? `${(m / 0.3048).toFixed(1)} ft` : `${m.toFixed(1)} m`);
/** @type {(key: "name", units: string) => string} */
export const field = (key, units) => `${FIELDS[key]}${key.endsWith("_m") ? (units === "us" ? ", ft" : ", m") : ""}`;
/** @type {(typed: string) => string} */
export const notANumber = (typed) => `${typed} is not a number; write it like 3.5`;

export function because(data) {
  const best = data.best,
    total = best.objects.reduce((s, o) => s + o.open_sky_h, 0), // of rounded hours: never less than what is clear
    clear = Math.min(best.object_hours, total),
    pole =
      best.pole_clearance_deg >= 0
        ? `stays ${degrees(best.pole_clearance_deg)} or more above the skyline`
        : `is hidden by ${degrees(-best.pole_clearance_deg)}`;
  return `${data.pole_star} ${pole}; the ${best.objects.length} objects stand clear ${clear.toFixed(0)} of ${total.toFixed(0)} hours, score ${best.score.toFixed(0)} of 100.`;
}
/** @type {(step: any, pole: string) => string} */
export function step(step, pole) {
  const hours = step.object_hours_lost,
    lost =
      Math.abs(hours) < 0.05
        ? "nothing lost"
        : `${Math.abs(hours).toFixed(1)} object-hours ${hours > 0 ? "lost" : "gained"}`;
  switch (step.verdict) {
    case "no_room":
      return "no place for a tripod";
    case "pole_hidden":
      return `${pole} hidden or too near the skyline`;
    case "no_object":
      return "no object stands clear any more";
    default:
      return `${lost}; ${pole} ${degrees(step.pole_clearance_deg)} clear`;
  }
}
/** @type {(share: number) => string} */
const percent = (share) => (share >= 0.01 ? `${(share * 100).toFixed(0)} %` : "less than 1 %");
/** @type {(data: any) => string[]} */
export const assumed = (data) => [
  ...data.assumed,
  ...data.pole_hidden_by.map((h) => `${data.pole_star} is hidden by ${h.name} from ${percent(h.share)} of the area.`),
];
// What is told of a place that was touched; `score` -2: no place at all, -1: not to be used.
/** @type {(at: [number, number], units: string, here: {score: number, clearance: number, hours: number, open: number, pole: string}) => string} */
export function there(at, units, { score, clearance, hours, open, pole }) {
  const where = `There, ${metres(at[0], units)} across and ${metres(at[1], units)} up: `;
  if (score === -2) return `${where}no place for a tripod.`;
  if (score === -1) return `${where}${pole} ${clearance}° clear, not to be used.`;
  return `${where}score ${score}, ${pole} ${clearance}° clear, ${hours} of ${open.toFixed(0)} object-hours.`;
}

export const AREA = "Area for the tripod";
export const FREE = "Kept free";
/** @type {(name: string, number: number) => string} */
export const corner = (name, number) => `${name}, corner ${number}`;
/** @type {(name: string, x: number, y: number, units: string) => string} */
export const grip = (name, x, y, units) => `${name}, ${metres(x, units)} across, ${metres(y, units)} up the plan`;
