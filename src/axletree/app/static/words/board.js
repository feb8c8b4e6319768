// The words of the board for those who look on: figures in, sentences out.

import { capital, clock, duration, fixed } from "../shared/words.js";

/** @type {(iso: string, zone: string) => string} */
const at = (iso, zone) => clock(new Date(iso), zone);

export const LOOKING = "Looking at what is shown";
export const nowShown = (left) =>
  left > 60 ? `Now, for about ${Math.round(left / 60)} min yet` : left > -600 ? "Now, and soon the next" : "Now";
export const first = (iso, zone) => `First of all, at ${at(iso, zone)}`;
export const SETTING_UP = "The telescope is being set up";
export const OVER = "The evening is over";
export const NOTHING = "Nothing is planned tonight";
export const called = (s) =>
  `${capital([s.also_called[0], `${s.kind}${s.constellation ? ` in ${s.constellation}` : ""}`].filter(Boolean).join(", "))}, magnified ${fixed(s.magnification)} times.`;
export const LOOK_FOR = "Look for";
export const glance = (words) => `${capital(words)}.`;
export const SAID = "What it is";

const years = (n) => {
  if (n >= 1e6) return `${Number((n / 1e6).toPrecision(3))} million years`;
  if (n < 10) return `${fixed(n, 1)} years`;
  return `${Math.round(n).toLocaleString("en-GB")} years`;
};
const seconds = (s) => (s < 90 ? `${fixed(s, s < 10 ? 1 : 0)} s` : duration(s));
export const light = (s) =>
  s.light_years
    ? `The light that you see set out about ${years(s.light_years)} ago.`
    : s.light_s
      ? `The light that you see left it ${seconds(s.light_s)} ago.`
      : "";

export const inFront = (n) => (n === 0 ? "nobody in front" : n === 1 ? "1 in front of you" : `${n} in front of you`);
export const turn = (t) => {
  if (!t) return "The evening ends before that: ask whether you may look earlier.";
  const where = t.first ? "" : `, at ${t.name}`;
  if (t.in_s < 60) return `You are next${where}.`;
  return `Your turn is likely in ${duration(60 * Math.round(t.in_s / 60))} ± ${Math.max(1, Math.round(t.sigma_s / 60))} min${where}.`;
};
// A time that was planned and has passed is no use to who waits.
export const next = (s, t, zone) =>
  `${Date.parse(s.begin) > t ? `at ${at(s.begin, zone)}: ` : ""}${[s.also_called[0], s.kind].filter(Boolean).join(", ")}`;
export const seen = (names) => (names.length ? `Shown already: ${names.join(", ")}.` : "");
export const further = (n) => (n > 0 ? ` ${n} more after that.` : "");
