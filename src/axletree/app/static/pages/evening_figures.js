// How does the rig stand for one stop? The circles run with the clock.

import { make, page, put } from "../shared/page.js";
import { mod } from "../shared/clock.js";
import { aboveGround, capital, clock, compassPoint, degrees, duration, hoursMinutes } from "../shared/words.js";
import { ms } from "./evening_hand.js";

let figuresFor = "";
export function figures(s, t, units) {
  const part = (t - ms(s.start.at)) / Math.max(ms(s.finish.at) - ms(s.start.at), 1000),
    span = mod(s.finish.hour_circle_h - s.start.hour_circle_h + 12, 24) - 12;
  const at = Math.max(0, Math.min(part, 3)),
    hour = mod(s.start.hour_circle_h + at * span, 24),
    dec = s.start.declination_circle_deg + at * (s.finish.declination_circle_deg - s.start.declination_circle_deg);
  const nudge =
    s.nudge.every_s === null
      ? s.nudge.direction
      : `every ${duration(s.nudge.every_s)}${s.nudge.knob_turns > 0 ? `: ${s.nudge.knob_turns < 0.1 ? s.nudge.knob_turns.toFixed(3) : s.nudge.knob_turns.toFixed(2)} turn ${s.nudge.direction}` : `. ${s.nudge.direction}`}`;
  const rows = [
    ["tube", `side ${s.chosen.side}`],
    ["eyepiece", `${s.view.eyepiece}, ${s.view.magnification.toFixed(0)} times`],
    ["hour circle", hoursMinutes(mod(Math.round(hour * 60) / 60, 24))],
    ["declination", degrees(dec, 1, true)],
    [
      "eye",
      `${aboveGround(s.view.height_mm, units)} high, ${s.view.face_azimuth_deg === null ? s.view.face_words : `face ${compassPoint(s.view.face_azimuth_deg)}`}: ${s.view.reach}`,
    ],
    ["nudge", nudge],
    [
      "room",
      s.chosen.room_ends === null
        ? "all night"
        : `to ${clock(new Date(s.chosen.room_ends), page.zone)}: ${s.chosen.ends_by}`,
    ],
    ["view", s.view.orientation],
  ];
  const key = JSON.stringify(rows);
  if (key === figuresFor) return;
  figuresFor = key;
  put("#figures", ...rows.flatMap(([k, v]) => [make("dt", {}, k), make("dd", {}, v)]));
  put(
    "#beware",
    ...[...s.cautions, ...s.turn_warnings].map((w) => make("p", { class: "caution" }, w)),
    make("p", { class: "faint" }, `${capital(s.visibility)}. ${s.why} ${s.why_side}`),
  );
}
export const noFigures = () => {
  if (figuresFor) {
    figuresFor = "";
    put("#figures");
    put("#beware");
  }
};
