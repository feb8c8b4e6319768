// Which stops still fit, in this order, from now on? No stop is ever given a start from which its
// room would end before its queue; what does not fit is left out and said.

import { NO_LONGER_SHOWS } from "./field_words.js";

export const OTHER = { east: "west", west: "east" };
const PATIENCE_S = 60;

// The first moment from `at` on when the whole queue fits into one opening of that side and no
// break falls into it; null when there is none.
export function firstStart(night, key, side, at, queue) {
  let best = null;
  for (const o of night.openings(key, side)) {
    let start = Math.max(at, o.from);
    for (const [from, until] of night.breaks) if (start < until && start + queue > from) start = until;
    if (start + queue <= o.lasts && (best === null || start < best.start))
      best = { start, side, until: o.until, shows: o.shows, lasts: o.lasts, endsBy: o.endsBy };
  }
  return best;
}

// `keys` in order; `from` when the rig is free; `before` the way [key, side] on which it stands;
// `wish(key)` -> { side, queue }: the side that suits, and the time at the eyepiece.
export function walk(night, keys, { from, before = null, wish }) {
  const rows = [],
    lost = [];
  let free = from,
    way = before;
  for (const key of keys) {
    const { side, queue } = wish(key);
    let found = null;
    for (const s of [side, OTHER[side]]) {
      const arrive = free + night.move(way, [key, s]),
        next = firstStart(night, key, s, arrive, queue);
      // The other side is taken only where the side that suits is closed, or not yet open.
      if (next && (!found || (found.start - found.arrive > PATIENCE_S && next.start < found.start)))
        found = { ...next, arrive };
    }
    if (!found) {
      lost.push({ key, ...whyLost(night, key, free, way, queue) });
      continue;
    }
    rows.push({
      key,
      side: found.side,
      start: found.start,
      end: found.start + queue,
      queue,
      arrive: found.arrive,
      wait: found.start - found.arrive,
      move: found.arrive - free,
      until: found.until,
      shows: found.shows,
      lasts: found.lasts,
      endsBy: found.endsBy,
    });
    free = found.start + queue;
    way = [key, found.side];
  }
  return { rows, lost, free, way };
}

// Why a stop has no start left: the room that lasts longest, and the latest start it would allow.
function whyLost(night, key, free, way, queue) {
  const last = night.openings(key).sort((a, b) => b.lasts - a.lasts)[0] ?? null;
  if (!last) return { latest: null, until: null, endsBy: "", queue, arrive: free };
  return {
    latest: last.lasts - queue,
    until: last.lasts,
    endsBy: last.shows < last.until ? NO_LONGER_SHOWS : last.endsBy,
    queue,
    arrive: free + night.move(way, [key, last.side]),
  };
}

// The keys with one of them at another place.
export function moved(keys, key, to) {
  const rest = keys.filter((k) => k !== key);
  rest.splice(Math.max(0, Math.min(to, rest.length)), 0, key);
  return rest;
}

// What a new order costs: the keys that had a start before and have none after.
export function newlyLost(before, after) {
  const had = new Set(before.rows.map((r) => r.key));
  return after.lost.filter((l) => had.has(l.key)).map((l) => l.key);
}
