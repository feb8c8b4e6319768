// Was the clock put back while the page is open? What is counted from a moment goes on as it was.

const LEAST_MS = 2000; // less is a clock that is kept right
let offset = Date.now() - performance.now();
const watchers = new Set();
// By how many milliseconds the clock was put, which is less than nothing.
/** @type {(fn: (byMs: number) => void) => void} */
export const onPutBack = (fn) => watchers.add(fn);

// To be asked often. A clock that goes forward is none that was set: the device slept, and time went by.
export function watchClock() {
  const before = offset;
  offset = Date.now() - performance.now();
  if (offset - before < -LEAST_MS) for (const fn of watchers) fn(offset - before);
}
