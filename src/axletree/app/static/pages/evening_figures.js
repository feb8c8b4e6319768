// How does the rig stand for one stop? The circles run with the clock.

import { make, page, put } from "../shared/page.js";
import { mod } from "../shared/clock.js";
import * as say from "../words/evening.js";
import { ms } from "./evening_hand.js";

let figuresFor = "";
export function figures(s, t, units, marks) {
  const part = (t - ms(s.start.at)) / Math.max(ms(s.finish.at) - ms(s.start.at), 1000),
    span = mod(s.finish.hour_reading_h - s.start.hour_reading_h + 12, 24) - 12;
  const at = Math.max(0, Math.min(part, 3)),
    hour = mod(s.start.hour_reading_h + at * span, 24),
    dec = s.start.declination_circle_deg + at * (s.finish.declination_circle_deg - s.start.declination_circle_deg);
  const own = s.start,
    circles = {
      marks,
      hour: mod(Math.round(hour * 60) / 60, 24),
      declination: dec,
      hourSigmaMin: own.hour_circle_sigma_min,
      declinationSigmaDeg: own.declination_circle_sigma_deg,
    },
    rows = say.figures(s, circles, units, page.zone);
  const key = JSON.stringify(rows);
  if (key === figuresFor) return;
  figuresFor = key;
  put("#figures", ...rows.flatMap(([k, v]) => [make("dt", {}, k), make("dd", {}, v)]));
  put(
    "#beware",
    ...(s.wait ? [make("p", {}, s.wait.words)] : []),
    ...[...s.cautions, ...s.turn_warnings].map((w) => make("p", { class: "caution" }, w)),
    make("p", { class: "faint" }, say.worth(s)),
    ...s.tonight.map((words) => make("p", {}, words)),
    ...(s.eyepiece ? s.eyepiece.words : []).map((words) => make("p", {}, words)),
    ...s.sayings.map((words) => make("p", { class: "faint" }, words)),
  );
}
export const noFigures = () => {
  if (figuresFor) {
    figuresFor = "";
    put("#figures");
    put("#beware");
  }
};
