// What do this mount's own circles show now, on the side that the tube is on, as they were set?

import { wrapH } from "./clock.js";

export function makeCircles({ sheet, night }) {
  const { hour_marks: marks, hour_circle: circle } = sheet.evening.rig;
  // The hour circle as it is set on a star for this side (evening/stops/set_on_star.py): for the planned one as the
  // stop says; null where no star shows for it.
  const setFor = (thing, row) => (row.side === thing.chosen.side ? thing.start : night.setOn(row.key, row.side));

  // What the hour circle shows more than before the setting, it shows more at every moment.
  function own(thing, row, at) {
    const before = night.ownCircles(row.key, row.side, at),
      start = setFor(thing, row);
    if (!before || circle === "fixed" || start?.hour_reading_h === null) return before;
    // What it shows then is what the last setting left.
    if (!start) return { ...before, hourSigmaMin: Infinity };
    const begin = Date.parse(start.at) / 1000,
      unset = night.ownCircles(row.key, row.side, begin).hourH,
      counted = marks === "hour angle" ? start.hour_reading_h : night.siderealH(begin) - start.hour_reading_h,
      // The drive keeps a circle that counts hour angle as it was set: the sky took it along.
      kept = circle === "driven" && marks === "hour angle" ? night.siderealH(at) - night.siderealH(begin) : 0;
    return {
      ...before,
      hourH: wrapH(before.hourH + counted - unset - kept),
      hourSigmaMin: start.hour_circle_sigma_min ?? before.hourSigmaMin,
    };
  }
  // In which words it is set; "" where it isn't.
  const setWords = (thing, row) =>
    (row.side === thing.chosen.side ? thing.set_on?.words : night.setOn(row.key, row.side)?.words) ?? "";
  return { own, setWords };
}
