// Which ticks has a ruler in the person's units, and where do its figures stand?

import { el, INK, words } from "../shared/pen.js";

// From x at y to the right, a `length` in mm long, `perMm` units of the drawing a millimetre.
export function ticks(group, [x, y], length, perMm, units) {
  const d = ["", ""],
    us = units === "us",
    unit = us ? 25.4 / 4 : 10;
  for (let n = 0; n * unit <= length + 1e-6; n += 1) {
    const long = us ? n % 4 === 0 : n % 10 === 0,
      middle = us ? n % 2 === 0 : n % 5 === 0,
      at = x + n * unit * perMm;
    d[long ? 1 : 0] += `M${at.toFixed(1)} ${y}v${long ? 15 : middle ? 10 : 6}`;
    if (long && (perMm * unit * (us ? 4 : 10) > 26 || n % (us ? 8 : 20) === 0))
      group.append(words(at, y + 34, us ? n / 4 : n * 10, 15));
  }
  group.append(
    el("path", { d: d[0], stroke: INK, "stroke-width": 0.9 }),
    el("path", { d: d[1], stroke: INK, "stroke-width": 1.8 }),
  );
}
