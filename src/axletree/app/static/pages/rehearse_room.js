// How much room has a stop: its own time, until when there is room, from when something may touch?

import { BRASS, el, INK, line, PAPER, sheet, WARN, words } from "../shared/pen.js";
import { page } from "../shared/page.js";
import * as say from "../words/rehearse.js";
import { turnSign } from "./rehearse_sign.js";

const W = 560,
  H = 92,
  KNOB = 58,
  LEFT = 12,
  RIGHT = W - 12,
  BAR = 34,
  HIGH = 16;
const ms = Date.parse;

// `part` of the stop has gone by.
export function roomBar(step, part) {
  const room = step.room,
    begin = ms(room.begin),
    end = ms(room.end),
    late = room.doubt ? ms(room.doubt.end_late) : 0,
    ends = room.room_ends === null ? null : ms(room.room_ends);
  const last = Math.max(end, ends === null ? begin + 3 * (end - begin) : Math.max(ends, late)),
    x = (t) => LEFT + ((t - begin) / (last - begin)) * (RIGHT - LEFT);
  const svg = sheet(W, H + (step.knob ? KNOB : 0), say.ROOM_OF);
  const bar = (from, to, given) =>
    el("rect", { x: x(from), y: BAR, width: Math.max(2, x(to) - x(from)), height: HIGH, ...given });
  svg.append(
    bar(begin, ends ?? last, { fill: PAPER, stroke: INK, "stroke-width": 1.4 }),
    bar(begin, end, { fill: BRASS }),
  );
  if (ends !== null && room.doubt) {
    const early = Math.max(begin, ms(room.doubt.end_early));
    for (const t of [early, late]) svg.append(line(x(t), BAR - 5, x(t), BAR + HIGH + 5, INK, 1.2));
    svg.append(line(x(early), BAR + HIGH + 5, x(late), BAR + HIGH + 5, INK, 1.2));
  }
  const touch = room.doubt?.touch_possible ? ms(room.doubt.touch_possible) : null;
  if (touch !== null && touch < last) svg.append(line(x(touch), BAR - 8, x(touch), BAR + HIGH + 8, WARN, 3));
  const now = begin + (end - begin) * part;
  svg.append(
    el("path", { d: `M${x(now)} ${BAR - 2}l-6 -9h12z`, fill: INK }),
    words(LEFT, BAR - 14, say.stopTo(room.end, page.zone), 17, { "text-anchor": "start" }),
    words(RIGHT, BAR + HIGH + 26, say.roomTo(room, page.zone), 17, { "text-anchor": "end", "font-weight": 600 }),
  );
  if (touch !== null && touch < last)
    svg.append(
      words(RIGHT, BAR - 14, say.touchFrom(room.doubt.touch_possible, page.zone), 17, {
        "text-anchor": "end",
        fill: WARN,
      }),
    );
  if (step.knob) svg.append(turnSign(LEFT + 30, H + 30, step.knob.clockwise, say.knobTurn(step.knob), false));
  return svg;
}
