// Which steps lead to the object by each way, and how far has the sky turned since the star was centred?

import { SIDEREAL } from "../shared/clock.js";

// The ways that this answer has, the one to try first in front.
const FIRST = { bare_eye: "aim", in_finder: "aim", steps: "turns", circles: "turns", hop: "hop", parallel: "parallel" };
/** @type {(data: any) => string[]} */
export function ways(data) {
  const there = {
    turns: data.steps !== null,
    hop: (data.hop?.steps.length ?? 0) > 0,
    parallel: data.parallel !== null,
    aim: data.first === "bare_eye" || data.hop?.outcome === "shows",
  };
  const found = Object.keys(there).filter((way) => there[way]);
  if (!found.length) return ["aim"];
  return found.sort((a, b) => Number(b === FIRST[data.first]) - Number(a === FIRST[data.first]));
}
/** @type {(data: any, way: string) => number | null} */
export function chanceOf(data, way) {
  if (way === "turns") return data.steps.chance_in_eyepiece;
  if (way === "hop") return data.hop.chance;
  if (way === "parallel") return Math.max(data.parallel.chance_by_turning, data.parallel.chance_by_waiting ?? 0);
  return FIRST[data.first] === "aim" ? data.chance : null;
}

// The steps of a way: { kind, n?, view }; `view` names the drawings that belong to it.
/** @type {(data: any, way: string) => { kind: string, n?: number, views: string[] }[]} */
export function course(data, way) {
  const begin = [{ kind: "where", views: ["bare_eye"] }],
    end = [{ kind: "look", views: ["weakest", "planned"] }];
  if (way === "turns")
    return [
      ...begin,
      { kind: "star", views: ["bare_eye"] },
      { kind: "hour", views: ["finder"] },
      { kind: "declination", views: ["finder"] },
      ...end,
    ];
  if (way === "parallel")
    return [
      ...begin,
      { kind: "beside", views: ["bare_eye"] },
      { kind: data.parallel.hour_turns === null ? "wait" : "along", views: ["weakest"] },
      ...end,
    ];
  if (way === "hop")
    return [
      ...begin,
      { kind: "hop_start", views: ["hop0"] },
      ...data.hop.steps.map((_, n) => ({ kind: "hop", n, views: alongHop(data, n) })),
      ...end,
    ];
  return [...begin, { kind: "aim", views: ["finder"] }, ...end];
}
// Near the zenith the picture turns on the way: then the field at the step's end stands beside its beginning.
/** @type {(data: any, n: number) => string[]} */
const alongHop = (data, n) => {
  const end = n + 1 < data.hop.steps.length ? `hop${n + 1}` : "finder";
  return data.page.hop_turned[n] ? [`hop${n}`, end] : [`hop${n}`];
};
export const CENTRED = new Set(["star", "beside"]);

// Turns of the hour knob that the sky has gone on, beyond what is in the count: `since` a moment
// up to which it is turned for (ms), `planned` seconds that the count holds from there.
/** @type {(data: any, at: number, since: number, planned: number) => number} */
export function skyTurns(data, at, since, planned) {
  const rate = data.steps?.later_turns_per_minute;
  if (!rate || !since) return 0;
  return (rate * Math.max(0, (at - since) / 1000 - planned)) / 60;
}
// Degrees of the hour axis, west positive, likewise: where its lock is open.
const SKY_DEG_PER_S = (15 * SIDEREAL) / 3600;
/** @type {(data: any, at: number, since: number, planned: number) => number} */
export const skyDegrees = (data, at, since, planned) =>
  data.page.driven || !since ? 0 : SKY_DEG_PER_S * Math.max(0, (at - since) / 1000 - planned);

// Seconds that the search holds from the last leg of the hour knob, or from the first look, to the
// end of leg `n`.
/** @type {(data: any, n: number) => number} */
export function legSeconds(data, n) {
  const legs = data.sweep.legs;
  let sum = legs[n].seconds;
  for (let k = n - 1; k >= 0; k -= 1) {
    if (legs[k].by === "hour") return sum;
    sum += legs[k].seconds;
  }
  return sum + data.page.look_seconds;
}

// What the hands have done when a step is done: `at` and the moments of the state in ms.
export function stepDone(state, kind, at, plannedS) {
  const more = { step: state.step + 1, began: state.began || at };
  if (CENTRED.has(kind)) return { ...more, centred: at, paid: 0 };
  // The count holds the sky's turn up to the planned arrival, or up to now where that is past.
  if (kind === "hour" || kind === "along") return { ...more, paid: Math.max(at, state.centred + plannedS * 1000) };
  return more;
}
export function stepBefore({ seen, back, leg, step }) {
  if (seen) return { seen: false };
  if (back) return { back: false, leg: null };
  if (leg !== null) return { leg: leg ? leg - 1 : null };
  return { step: Math.max(0, step - 1) };
}
