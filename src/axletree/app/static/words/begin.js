// The words of the five answers from which a kit is made.

import { fixed, mass } from "../shared/words.js";

export const LOOKING = "Looking for it";
export const MAKING = "Making your kit";
export const NO_PLACE = "Write the name of a town, or coordinates like 38.57, -7.91.";
export const NO_TUBE = "Write both numbers in millimetres, like 130 and 650.";
export const NO_EYEPIECE = "Write the numbers on the eyepieces in millimetres, like 25, 10.";
export const NO_COUNT = "Write how many look, from 0 to 500.";
export const NOT_LEADING = "Who leads makes the kit.";
export const MAKE = "Make it my kit";
export const AS_DRAFT = "Take it to the kit’s page";

/** @type {(value: number, letters: string) => string} */
const toward = (value, letters) => `${fixed(Math.abs(value), 2)}° ${letters[value < 0 ? 1 : 0]}`;
export const point = (latitude, longitude) => `${toward(latitude, "NS")}, ${toward(longitude, "EW")}`;
export const placeNamed = (p) => [p.name, p.region === p.name ? "" : p.region, p.country].filter(Boolean).join(", ");
const LOOKS = { small: "small", middle: "middle", large: "large" };
export const look = (size) => LOOKS[size];
/** @type {(m: { head_kg: number, tripod_kg: number, payload_kg: number }, units: any) => string} */
export const carries = (m, units) =>
  `About like this: the head weighs ${mass(m.head_kg, units)}, the tripod ${mass(m.tripod_kg, units)}; it carries ${mass(m.payload_kg, units)}. The person is 1.70 m tall.`;
const MOTIONS = { hand: "by hand", motor: "with a motor" };
export const mount = (size, motion) => `${size}, ${MOTIONS[motion]}`;
const KINDS = { newtonian: "Newtonian" };
/** @type {(aperture: number, focal: number, kind: string) => string} */
export const tube = (aperture, focal, kind) =>
  `${aperture} mm f/${Math.round((10 * focal) / aperture) / 10} ${KINDS[kind] ?? kind}`;
export const eyepieces = (all, barlow) => `${all.map((f) => `${f} mm`).join(", ")}${barlow ? ", Barlow lens" : ""}`;
export const powers = (focal, all, barlow) => {
  const each = all.flatMap((f) => (barlow ? [focal / f, (2 * focal) / f] : [focal / f])).sort((a, b) => a - b);
  const last = fixed(each[each.length - 1]),
    others = each.slice(0, -1).map((m) => fixed(m));
  return `They magnify ${others.length ? `${others.join(", ")} and ` : ""}${last} times.`;
};
const AUDIENCES = { alone: "nobody else", family: "family, friends", class: "a class", public: "anybody" };
const OBSERVERS = { newcomer: "you are new to this", practised: "you have practice", expert: "you know it by heart" };
export const who = (audience, visitors, observer) =>
  `${AUDIENCES[audience]}${visitors ? `, ${visitors} besides you` : ""}; ${OBSERVERS[observer]}`;
export const MADE = "It is your kit";
export const keptIn = (file, guessed) =>
  `${file ? `Kept in ${file}` : "Kept while this runs"}. ${guessed} of its figures are guessed from what you answered; the measures that matter most come first. Every page now works for it.`;
