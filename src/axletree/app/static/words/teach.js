// The words of the page that explains the mount: figures in, sentences out.

import { degrees, duration, toTheSecond } from "../shared/words.js";

export const BUILDING = "Building the rig";
export const RUN = "Let the sky turn";
export const STOP = "Stop";
export const LATITUDE = "Latitude";
export const HOURS = "Hours turned";
export const SLIDE_THE_PLACE = "Drag the place along the edge, then let the sky turn.";

const onEquator = (latitude) => Math.abs(latitude) < 0.05;
const half = (latitude) => (latitude > 0 ? "north" : "south");

export const place = (latitude) =>
  onEquator(latitude) ? "on the equator" : `${degrees(Math.abs(latitude))} ${half(latitude)}`;
export const latitudeTick = (v) => (v === 0 ? "equator" : Math.abs(v) === 90 ? "pole" : `${Math.abs(v)}°`);
export const hoursTick = (v) => `${v} h`;
export const turned = (hours) => (hours ? `turned for ${duration(hours * 3600)}` : "not turned yet");

// The large line in two parts, and what follows from it.
export const answer = (latitude) => [
  degrees(Math.abs(latitude)),
  ` ${onEquator(latitude) ? "on the equator" : half(latitude)}`,
];
export const because = (latitude) =>
  `So the ${latitude >= 0 ? "north" : "south"} pole of the sky stands ${degrees(Math.abs(latitude))} high. The mount's axis stays parallel to the Earth's, wherever the ground is. `;
export const afterTurning = (hours) =>
  `The Earth has turned for ${duration(hours * 3600)}; the tube has turned as far about that one axis and still looks at its star.`;

// The lesson: what is asked, what may be guessed, and what is so. Figures from the kit's own place.
export const STEPS = {
  axes: "Three places",
  still: "Nothing turns",
  turning: "One axis turns",
  zenith: "Overhead",
  try: "Try it yourself",
};
export const LOOK = "Look";
export const NEXT = "Next";
export const WHOLE = "Fill the screen";
export const NOT_WHOLE = "Back to the page";
const minutes = (seconds) => toTheSecond(Math.round(seconds));
export const LESSON = {
  axes: (data) => ({
    asks: "One mount, three places on the Earth. Which way must its axis point at each?",
    before: `All three tubes look at one star, ${data.star.name}.`,
    guesses: ["Straight up, everywhere", "The same way, everywhere", "Level, everywhere"],
    right: 1,
    so: "The same way: each axis lies along the Earth's own axis. Only the ground tilts.",
  }),
  still: (data) => ({
    asks: `${data.star.name} stands in the middle of the eyepiece. Nobody touches anything. Where is it in ${minutes(2 * data.eyepiece.leaves_s)}?`,
    before: `Eyepiece ${data.eyepiece.label}, ${data.eyepiece.magnification.toFixed(0)} times.`,
    guesses: ["Still in the middle", "Over the edge", "Back after a circle"],
    right: 1,
    so: `Over the edge, after ${minutes(data.eyepiece.leaves_s)}: the Earth turns, and carries the tube along.`,
  }),
  turning: (data) => ({
    asks: "Now the one axis turns against the Earth, as fast as the Earth. Where is the star?",
    before: `Left the axis still, right the axis turning; ${data.star.name} in both.`,
    guesses: ["It leaves later", "It stays in the middle", "It leaves on the other side"],
    right: 1,
    so: "It stays in the middle, for hours: one axis undoes the Earth's turn.",
  }),
  zenith: () => ({
    asks: "A star passes almost overhead. One mount has its axis on the pole, one has it upright. What must their knobs do?",
    before: "Right the same mount, its axis set upright.",
    guesses: ["All turn evenly", "One knob of the upright mount rushes", "The knobs of the upright mount stand still"],
    right: 1,
    so: "On the pole one knob turns, always evenly. Upright both turn, and one rushes when the star is overhead.",
  }),
};
export const judged = (right, answer) => (right ? "Well guessed." : `Not quite: “${answer}” was right.`);
export const THREE_PLACES = "The Earth from the side, with the mount at three places";
export const THE_AXIS_OF_EARTH = "the Earth's axis";
export const toStar = (name) => `to ${name}`;
export const ALONG_THE_AXIS = "The Earth seen along its axis, the mount upon it";
export const seenAlong = (sense) => `over the ${sense > 0 ? "north" : "south"} pole`;
export const after = (seconds) => `after ${duration(seconds)}`;
export const circleOf = (follows) => `The eyepiece's circle, the axis ${follows ? "turning" : "still"}`;
export const axisIs = (follows) => (follows ? "axis turning" : "axis still");
export const isGone = (name) => `${name} is gone`;
export const WEST = "west";
export const EQUATORIAL = "axis on the pole";
export const UPRIGHT = "axis upright";
export const HOUR_KNOB = "hour knob";
export const DECLINATION_KNOB = "declination knob";
export const AZIMUTH_KNOB = "azimuth knob";
export const ALTITUDE_KNOB = "altitude knob";
const rate = (value) => (Math.abs(value) < 0.05 ? "0" : Math.abs(value).toFixed(Math.abs(value) < 100 ? 1 : 0));
export const perHour = (now, most) =>
  `${rate(now)}° an hour${Math.abs(most) > Math.abs(now) + 1 ? `, once ${rate(most)}°` : ""}`;
export const hoursBefore = (hours) => {
  const size = Math.round(Math.abs(hours) * 60);
  if (size === 0) return "now at its highest";
  return `${size} min ${hours < 0 ? "before" : "after"} its highest`;
};
