// The words of the page about the pole: figures in, sentences out. What stays the same while the
// clock runs comes from the server (`data.words`).

import { clock, compassPoint, degrees, dialHour, dialPlace } from "../shared/words.js";

export const FINDING = "Finding the pole star";
export const BOLTS = "The bolts";
export const ON_SCALE = " on the altitude scale";
export const SCALE = "The altitude scale shows";
export const AZIMUTH = "The axis points east of the pole by";

export const sheet = (star) => `${star} in the view along the axis, on a dial with twelve at the top`;
export const starAt = (star) => `${star} `;
export const ON_THE_DIAL = " on the dial";

export const withoutView = (data, star) =>
  `${data.words.no_view}: set scale and direction, then measure the drift of two stars. ${data.star} stands ${star.away.toFixed(1)}′ from the pole, ${dialPlace(star.hour)} on a dial around it.`;
export const inView = (data, star) =>
  `${star.away.toFixed(1)}′ from the middle, as the eye sees it ${LOOK[data.view]}${data.rotation_deg ? ` and turned by ${data.rotation_deg}°` : ""}; 12 is up. The altitude scale goes to ${degrees(data.scale.setting_deg)}.`;
export const aboutPoint = (data, star) =>
  `${star.away.toFixed(1)}′ from the point that stands still in ${data.words.tube} while the hour axis swings; 12 is up, the picture ${data.words.tube_picture}. The altitude scale goes to ${degrees(data.scale.setting_deg)}.`;
export const throughTube = (data) => data.words.tube;
const LOOK = { erect: "erect", inverted: "inverted", mirrored: "mirrored" };

export function tonight(data, zone) {
  const t = data.tonight,
    at = (iso) => clock(new Date(iso), zone),
    rows = [];
  if (t.comes_out)
    rows.push(
      `${data.star} comes out at ${at(t.comes_out)}${t.first_place ? ` and stands ${dialPlace(t.first_place.clock_hour)} on the dial then` : ""}; it fades at ${t.fades ? at(t.fades) : "no time"}.`,
    );
  else
    rows.push(
      t.state === "dark all along"
        ? `${data.star} shows all along.`
        : `${data.star} doesn't come out: the Sun is lowest at ${degrees(t.lowest_sun_altitude_deg)}.`,
    );
  if (t.star_least_above_skyline_deg !== null)
    rows.push(
      `The pole stands ${degrees(t.pole_above_skyline_deg)} above the skyline, ${data.star} never less than ${degrees(t.star_least_above_skyline_deg)}.`,
    );
  return [...rows, ...data.picture.guides.map(guide)];
}
const guide = (g) =>
  `${g.name}: ${g.up ? `${degrees(g.altitude_deg, 0)} high in the ${compassPoint(g.azimuth_deg)}${g.clear === false ? ", behind the skyline" : ""}` : "below the horizon"}; in the view towards ${dialHour(g.clock_hour)}.`;

export const onRim = (g) => (g.up ? `towards ${g.name}` : `${g.name}, not up`);
export const atTime = (iso, zone) => `at ${clock(new Date(iso), zone)}`;

export const scaleValue = (deg, read) => (read ? degrees(deg) : "altitude scale: not read");
export const azimuthMark = (v) =>
  v === 0 ? "pole" : `${Math.abs(v / 60)}°${Math.abs(v) === 120 ? (v > 0 ? " east" : " west") : ""}`;
export const azimuthValue = (v, read) =>
  !read ? "direction: not read" : v === 0 ? "on the pole" : `${Math.abs(v)}′ ${v > 0 ? "east" : "west"}`;
