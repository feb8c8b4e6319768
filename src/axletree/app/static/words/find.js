// The words of the page about finding: figures and codes in, sentences out.

import { clock, compassPoint, countdown, degrees, dialPlace, hoursMinutes, round } from "../shared/words.js";

export const LOOKING = "Looking for the ways to it";
export const notNow = (name) => [`${name}:`, " not to be found now"];
export const CENTRED = "It is in the middle: next";
export const NEXT = "Next";
export const HERE = "I see it";
export const NOT_THERE = "Not there";
export const NEXT_LEG = "Not yet: next leg";
export const BACK_TO_STAR = "Not there: back to the star";
export const STEP_BACK = "A step back";
export const AGAIN = "From the beginning";
export const KEEP_IT = "Keep it in view";
export const NOTING = "Noting it";
export const NOTED = "Noted in the logbook.";
export const TAKE_NOTE_BACK = "Noted: take it back";
export const NOTE_TAKEN_BACK = "The note is taken back.";
const NOTED_BY = { turns: "turns", hop: "hop", parallel: "its parallel", aim: "eye" };
/** @type {(way: string, swept: boolean, found: boolean, minutes: number | null) => string} */
export const noteIt = (way, swept, found, minutes) => {
  const by = `by ${NOTED_BY[way]}${swept ? " and search" : ""}`;
  if (!found) return `Note: not found ${by}`;
  return `Note: found ${by}${minutes === null ? "" : `, ${Math.max(1, minutes).toFixed(0)} min`}`;
};
export const BEST_SIDE = "side with more room";

export const side = (name) => `side ${name}`;
export const place = (data, at, zone) =>
  `${data.object} at ${clock(at, zone)}${data.side ? `, tube side ${data.side}` : ""}`;
const turns = (value) => `${Math.abs(value).toFixed(2)} ${Math.abs(value) <= 1 ? "turn" : "turns"}`;
const sense = (value) => (value > 0 ? "clockwise" : "anticlockwise");
const chance = (p) => (p >= 0.975 ? "nearly certain" : p < 0.05 ? "hardly any" : `${(100 * p).toFixed(0)} %`);
const named = (star) => star?.[0] ?? "the star";
const hopName = (star) =>
  star === null ? "The object's place" : (star.names[0] ?? `Star of magnitude ${star.magnitude_v.toFixed(1)}`);

const WAYS = {
  turns: "counted turns",
  hop: "star by star in the finder",
  parallel: "along its parallel",
  aim: "aim at it",
};
export const way = (name, p) => WAYS[name] + (p === null ? "" : `, ${chance(p)}`);

// Above the finder's field at the beginning and at the end of a step, where it turns on the way.
export const TURNED = ["Before the move", "After it: the picture has turned"];

// The list of all steps, a few words each.
export const inShort = (step, data) =>
  ({
    where: () => "Where to look",
    star: () => `${named(data.steps.star)} to the middle`,
    beside: () => `${named(data.parallel.star)} to the middle`,
    hour: () => "Hour knob",
    declination: () => "Declination knob",
    along: () => "Hour knob alone",
    wait: () => "Wait",
    aim: () => "Point the finder at it",
    hop_start: () => `Finder to ${hopName(data.hop.steps[0].present)}`,
    hop: () => hopName(data.hop.steps[step.n].following),
    look: () => "Look",
  })[step.kind]();

// What to do now: [the large words, small ones after them, sentences below].
/** @type {(step: any, data: any, live: any) => [string, string, string[]]} */
export const now = (step, data, live) => NOW[step.kind](data, live, step);

const eyepieceOf = (data) => data.views.find((view) => view.instrument === "eyepiece")?.label ?? "weakest eyepiece";
const finderOf = (data) => data.views.find((view) => view.instrument === "finder" || view.instrument === "plain_sight");
const CENTRE_NOTE = "Tap when it stands in the middle: from then on the sky's turn is counted.";

const NOW = {
  where: (data) => {
    const where = data.where_to_look;
    return [
      `Look ${compassPoint(where.azimuth_deg)}`,
      `${degrees(where.altitude_deg, 0)} high${where.overhead ? ", nearly overhead" : ""}`,
      data.page.guides,
    ];
  },
  star: (data) => [
    named(data.steps.star),
    ` to the middle of the ${eyepieceOf(data)}`,
    [
      `Magnitude ${data.steps.star_magnitude_v.toFixed(1)}. End both knobs ${data.steps.hour.last_move} and ${data.steps.declination.last_move}.`,
      sighting(data),
      data.page.driven ? "" : CENTRE_NOTE,
    ],
  ],
  hour: (data, live) => axis(data.steps.hour, "hour", data, live),
  declination: (data, live) => {
    const [large, small, rows] = axis(data.steps.declination, "declination", data, live);
    return [large, small, [...rows, skyMeanwhile(data)]];
  },
  look: (data, live) => [
    "Look",
    ` into the ${eyepieceOf(data)}`,
    [
      Math.abs(live.owed) >= 0.02
        ? `First the hour knob ${turns(live.owed)} ${sense(live.owed)}: the sky has turned on.`
        : "",
      live.chance === null ? "" : `Chance that it is in the field: ${chance(live.chance)}, assumed.`,
      data.sight ? data.sight.words : "",
      data.page.views.planned ? `There? Then change to ${lower(data.page.views.planned.head)}.` : "",
    ],
  ],
  beside: (data) => [
    named(data.parallel.star),
    ` to the middle of the ${eyepieceOf(data)}`,
    [
      `Magnitude ${data.parallel.star_magnitude_v.toFixed(1)}. Then leave the declination alone.`,
      sighting(data),
      data.page.driven ? "" : CENTRE_NOTE,
    ],
  ],
  along: (data, live) => [
    turns(data.parallel.hour_turns + live.late),
    ` of the hour knob, ${sense(data.parallel.hour_turns + live.late)}`,
    [
      `±${data.parallel.hour_turns_sigma.toFixed(2)} turns, the declination left alone.`,
      counting(data, live),
      data.parallel.wait_minutes === null ? "" : `Or touch nothing: the sky brings it in ${waiting(data)} min.`,
    ],
  ],
  wait: (data, live) => [
    countdown(Math.max(0, 60 * data.parallel.wait_minutes - live.elapsed)),
    " until the sky brings it",
    [`${waiting(data)} min in all. Touch nothing.`],
  ],
  aim: (data) => ["Point the finder", ` at ${data.object}`, [sighting(data) || data.page.hop_end[0]]],
  hop_start: (data) => ["Point the finder", ` at ${hopName(data.hop.steps[0].present)}`, [data.page.hop_start]],
  hop: (data, _live, step) => {
    const move = data.hop.steps[step.n];
    return [hopName(move.following), ` ${halfHour(move.clockwise_deg)}, to the middle`, data.page.hop_steps[step.n]];
  },
};
// A way on a clock face, as closely as an eye at a finder tells it.
const halfHour = (deg) => dialPlace((15 * round(deg / 15)) / 30);
const lower = (text) => text.charAt(0).toLowerCase() + text.slice(1);
const waiting = (data) =>
  `${data.parallel.wait_minutes.toFixed(0)} ± ${(data.parallel.wait_sigma_minutes ?? 0).toFixed(1)}`;

const LOCKS = {
  no_knob: "it has no knob",
  turns_not_counted: "nobody has counted its turns",
  turn_unsure: "its teeth are a guess, too rough for so far (count them by day, and the knob serves)",
  beyond_the_arm: "the arm does not reach so far",
  too_many_turns: "nobody counts so many turns",
};
function axis(turn, name, data, live) {
  const hour = name === "hour",
    sky = hour ? live.late : 0;
  if (turn.turns === null) {
    const circle = turn.circle_deg + (hour ? live.lateDeg : 0),
      deg = turn.degrees + (hour ? live.lateDeg : 0);
    return [
      degrees(Math.abs(deg), 1),
      ` ${towards(deg, hour)}, the ${name} lock open`,
      [
        turn.lock ? `A hand on the tube. The lock, since ${LOCKS[turn.lock] ?? turn.lock}.` : "",
        hour
          ? `The hour circle changes by ${hoursMinutes(circle / 15, true)} of hour angle.`
          : `The declination circle changes by ${degrees(circle, 1, true)}.`,
      ],
    ];
  }
  const whole = turn.turns + sky;
  if (Math.abs(whole) < turn.sigma_turns)
    return [
      "Leave alone",
      ` the ${name} knob`,
      [
        `${Math.abs(whole).toFixed(2)} ± ${turn.sigma_turns.toFixed(2)} turns is less than its error.`,
        hour ? counting(data, live) : "",
      ],
    ];
  return [
    turns(whole),
    ` of the ${name} knob, ${sense(whole)}`,
    [
      `±${turn.sigma_turns.toFixed(2)} turns; ${degrees(Math.abs(turn.degrees), 1)} ${towards(turn.degrees, hour)} on the axis.`,
      turn.overshoot_turns ? `Go ${turns(turn.overshoot_turns)} past it and come back.` : "",
      hour ? counting(data, live) : "",
    ],
  ];
}
const towards = (deg, hour) => (hour ? (deg >= 0 ? "west" : "east") : deg >= 0 ? "north" : "south");
const rateOf = (data) => data.steps?.later_turns_per_minute ?? 0;
const counting = (data, live) =>
  rateOf(data) && live.elapsed > 0
    ? `${countdown(live.elapsed)} since the star was centred; the count goes on with the sky, ${Math.abs(rateOf(data)).toFixed(2)} turn a minute ${sense(rateOf(data))}.`
    : "";
const skyMeanwhile = (data) => (rateOf(data) ? "What the sky turns meanwhile comes before the look." : "");
// Without a finder, or with one that has no power, the tube is aimed in other ways.
function sighting(data) {
  const finder = finderOf(data);
  if (!finder) return `No finder on this tube: look along it, then into the ${eyepieceOf(data)}.`;
  return finder.instrument === "plain_sight"
    ? "The sight has no power: both eyes open, the place inside its rings."
    : "";
}

// The search, leg by leg.
/** @type {(data: any, n: number, late: number) => [string, string, string[]]} */
export const leg = (data, n, late) => {
  const one = data.sweep.legs[n],
    whole = one.turns + (one.by === "hour" ? late : 0);
  return [
    turns(whole),
    ` of the ${one.by} knob, ${sense(whole)}`,
    [
      `Leg ${n + 1} of ${data.sweep.legs.length}, looking all the way. Seen by its end: ${chance(one.chance)}.`,
      data.page.driven ? "" : "The sky's turn is in the count.",
    ],
  ];
};
/** @type {(data: any, way: string) => [string, string, string[]]} */
export const back = (data, way) => {
  if (way === "hop") return ["Back", ` to ${hopName(data.hop.steps[0].present)}`, ["Go through the hop once more."]];
  if (way !== "turns") return ["Back", " to the beginning", [data.page.first]];
  const hour = data.sweep?.back_hour_turns,
    declination = data.sweep?.back_declination_turns;
  const knobs =
    hour && declination
      ? `About ${turns(hour)} of the hour knob ${sense(hour)}, ${turns(declination)} of the declination knob ${sense(declination)}.`
      : "";
  return [
    "Back",
    ` to ${named(data.steps.star)}`,
    [knobs, data.page.no_search || "Still not there: count again from the star."],
  ];
};
/** @type {(data: any) => [string, string, string[]]} */
export const found = (data) => [
  "Found:",
  ` ${data.object}`,
  [
    "Put it in the middle, then let somebody look.",
    data.sight ? data.sight.words : "",
    ...(data.eyepiece ? data.eyepiece.words : []),
    ...data.sayings,
  ],
];

// What is good to know, a sentence each.
export const rows = (data) => [
  data.page.first,
  data.page.no_turns,
  data.hop && data.hop.outcome !== "hop" ? `Star by star in the finder: ${data.page.hop_end.join(" ")}` : "",
  finderOf(data)?.instrument === "finder"
    ? ""
    : `${sighting(data)} A hop from star to star needs a finder that magnifies.`,
];
