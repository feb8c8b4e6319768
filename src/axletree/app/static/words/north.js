// The words of the page about north: figures and codes in, sentences out.

import { capital, clock, degrees } from "../shared/words.js";

export const SHEET = "The ground from above, with the line to mark and the direction of the pole";
export const LOOKING = "Looking for methods";
export const POINTS = { 0: "north", 90: "east", 180: "south", 270: "west" };
export const SHADOW = "shadow of the plumb line";
export const ON_THE_COMPASS = "on the compass";
export const NOTHING = "Nothing can be trusted here now";
export const WITHOUT = "Set the axis by level and latitude scale, and find its direction by drift.";

/** @type {(sigma: number) => string} */
export const plusMinus = (sigma) => `±${sigma < 2 ? sigma.toFixed(2) : sigma.toFixed(0)}°`;

/** @type {(iso: string, now: Date, zone: string) => string} */
export function when(iso, now, zone) {
  const at = new Date(iso),
    day = new Intl.DateTimeFormat("en-GB", { timeZone: zone, weekday: "long" });
  return (day.format(at) === day.format(now) ? "" : `${day.format(at)} `) + clock(at, zone);
}
/** @type {(iso: string, zone: string) => string} */
export const until = (iso, zone) => ` until ${clock(new Date(iso), zone)}`;
export const later = (method) => `${capital(method.name)}, ${plusMinus(method.sigma_deg)}. `;
/** @type {(item: any, opens: string | null) => string} */
export const closed = (item, opens) => `${capital(item.name)}: ${item.reason}${opens ? ` until ${opens}` : ""}.`;
export const notTrusted = (method) => `${capital(method.name)}: not to be trusted, ${method.reason}.`;

export const assumed = (data) => [
  `The needle points ${degrees(Math.abs(data.magnetic_declination_deg), 2)} ${data.magnetic_declination_deg >= 0 ? "east" : "west"} of true north here (±${degrees(data.magnetic_declination_sigma_deg, 2)}); ${data.horizontal_field_nt.toFixed(0)} nT level field.`,
  ...(data.near_enough_deg
    ? [
        `Within ${degrees(data.near_enough_deg, 1)} the pole lies in the field of the polar axis, and its bolts do the rest.`,
      ]
    : []),
  ...data.assumed,
];

/** @type {(name: string, at: string) => string} */
export const nothingNow = (name, at) => `Nothing now; ${name} at ${at}`;
/** @type {(pole: string, sigma: number) => string} */
export const byCompass = (pole, sigma) => `Turn until the compass shows it: that is true ${pole}, ${plusMinus(sigma)}.`;

// Figure and small words of the answer: how far the pole is from the line that can be marked.
/** @type {(turn: number, shadow: boolean, pole: string) => [string, string]} */
export function turned(turn, shadow, pole) {
  if (Math.abs(turn) < 0.05) return ["Along it", ` is true ${pole}`];
  if (Math.abs(turn) > 179.95) return ["Straight opposite", ` is true ${pole}`];
  return [
    `${degrees(Math.abs(turn))} `,
    `to the ${turn > 0 ? "right" : "left"} of the ${shadow ? "shadow" : "line of sight"}`,
  ];
}
/** @type {(method: any, pole: string) => string} */
export function howTo(method, pole) {
  const line = method.by_shadow
      ? "Hang a plumb line in the light, mark its shadow"
      : `Sight ${method.name} along a plumb line, mark the line`,
    pace = Math.abs(method.rate_deg_per_min ?? 0),
    turns = pace >= 0.005 ? ` It turns ${pace.toFixed(2)}° a minute; this keeps up with it.` : "";
  return `${line}: true ${pole} is there, ${plusMinus(method.sigma_deg)}.${turns}`;
}
