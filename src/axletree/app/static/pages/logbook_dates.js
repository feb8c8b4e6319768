// When were the evenings? A tooth for each on a rule of dates, as tall as the number of objects shown.

import { put } from "../shared/page.js";
import { FAINT, INK, line, sheet, words } from "../shared/pen.js";
import * as say from "../words/logbook.js";

export function drawEvenings(evenings) {
  const all = evenings.slice().reverse();
  if (!all.length) {
    put("#drawing");
    return;
  }
  const W = 640,
    LEFT = 24,
    RIGHT = 616,
    BASE = 190,
    at = (iso) => Date.parse(`${iso}T12:00:00Z`);
  const first = new Date(at(all[0].date)),
    last = new Date(at(all[all.length - 1].date));
  const from = Date.UTC(first.getUTCFullYear(), first.getUTCMonth(), 1),
    to = Date.UTC(last.getUTCFullYear(), last.getUTCMonth() + 1, 1);
  const x = (t) => LEFT + ((t - from) / (to - from)) * (RIGHT - LEFT),
    most = Math.max(...all.map((e) => e.done), 1);
  const svg = sheet(W, 262, say.sheet(all.length, all[0].date, all[all.length - 1].date));
  svg.append(line(LEFT, BASE, RIGHT, BASE, INK, 1.8));
  const months = (to - from) / 86400000 / 30.4,
    every = months <= 8 ? 1 : months <= 24 ? 3 : 12;
  let dated = false;
  for (let m = 0, t = from; t <= to; m += 1, t = Date.UTC(first.getUTCFullYear(), first.getUTCMonth() + m, 1)) {
    const month = new Date(t).getUTCMonth(),
      long = month % every === 0;
    svg.append(line(x(t), BASE, x(t), BASE + (long ? 16 : 9), INK, long ? 1.8 : 1));
    if (long && t < to)
      svg.append(words(x(t) + 4, BASE + 38, say.month(t, month === 0 || !dated), 19, { "text-anchor": "start" }));
    dated ||= long;
  }
  for (const e of all) svg.append(line(x(at(e.date)), BASE, x(at(e.date)), BASE - 8 - (e.done / most) * 140, INK, 4));
  svg.append(
    words(LEFT, BASE + 66, say.legend(most), 18, { "text-anchor": "start", fill: FAINT, "font-style": "italic" }),
  );
  put("#drawing", svg);
}
