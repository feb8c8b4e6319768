// The words of the page that explains the mount: figures in, sentences out.

import { degrees, duration } from "../shared/words.js";

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
