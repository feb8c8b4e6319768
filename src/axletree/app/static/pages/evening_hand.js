// What is in hand: a stage of setting up, a stop, or nothing any more?

/** @type {(iso: string) => number} */
export const ms = (iso) => Date.parse(iso);

// Ticks that have not come back from the machine yet count like the others.
export const tickedOf = (data, waiting) => [...data.ticked, ...waiting.filter((w) => w.day === data.date)];
export function stopsToCome(data, done) {
  const gone = new Set(done.map((t) => t.key));
  return data.stops.filter((s) => !gone.has(s.catalogue_id));
}
// A wait that is spoken of.
export const LONG_WAIT_MS = 600_000;
const HALF_DAY_MS = 43_200_000;
export function handOf(data, done, t) {
  const stops = stopsToCome(data, done),
    first = stops[0] ?? null;
  const main = data.stages.filter((s, i, all) => !all.slice(i + 1).some((n) => ms(n.begin) < ms(s.end) - 1000));
  if (first && !done.length && t < ms(first.begin)) {
    const begun = main.filter((s) => ms(s.begin) <= t);
    if (begun.length && t < ms(begun[begun.length - 1].end))
      return { stage: begun[begun.length - 1], next: main[main.indexOf(begun[begun.length - 1]) + 1] ?? null };
    if (!begun.length && main.length) return { wait: main[0] };
  }
  if (!first) return {};
  // Nobody ticked anything off: the hours are over, or a whole stop has passed meanwhile.
  const since = data.over_from ? t - ms(data.over_from) : -1;
  if (since >= 0) return { over: since < HALF_DAY_MS ? "tonight" : "past" };
  const next = stops[1] ?? null;
  return {
    stop: first,
    next,
    behind: next && t >= ms(next.end) ? { begun: done.length > 0 } : null,
    idle: done.length > 0 && ms(first.begin) - t > LONG_WAIT_MS ? freeTime(data, t) : "",
  };
}
// A wait that nobody asked for can be planned anew, once.
function freeTime({ best_from: from }, t) {
  if (!from) return "open";
  return ms(from) > t ? "" : "full";
}
// The rule of time is drawn again when this changes.
export const currentOf = (hand, t) => (hand.stop && ms(hand.stop.begin) <= t ? hand.stop.catalogue_id : "");
export const nameOf = (hand, t) => `${hand.stop?.catalogue_id}|${hand.stage?.name}|${hand.over}|${currentOf(hand, t)}`;

export const STEPS = {
  spot: "/spot",
  level: "/level",
  north: "/north",
  balance: "/balance",
  pole: "/pole",
  check: "/check",
};
