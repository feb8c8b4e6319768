// Which numbers were typed? A comma parts them, or stands for the point where only one is asked for.

// One number, NaN where there is none.
/** @type {(typed: string) => number} */
export const numberOf = (typed) => {
  const words = typed
    .trim()
    .replace(/\s*mm$/, "")
    .replace(",", ".");
  return words ? Number(words) : Number.NaN;
};
// All numbers of a list, or null where one is none or outside.
/** @type {(typed: string, least: number, most: number) => number[] | null} */
export function numbersOf(typed, least, most) {
  const all = typed
    .split(/[;,]\s*|\s+/)
    .map((part) => part.replace(/mm$/, ""))
    .filter(Boolean)
    .map(Number);
  return all.length && all.length <= 12 && all.every((n) => n >= least && n <= most) ? all : null;
}
