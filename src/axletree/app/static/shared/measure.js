// How much room do words take in a drawing? The browser measures, with the typeface that the page is set in.

const pen = document.createElement("canvas").getContext("2d");
const SIZE = 100; // large, so that no width is rounded to whole points

// The family as the style sheet names it, what stands in for it included.
const family = () => getComputedStyle(document.documentElement).getPropertyValue("--serif").trim() || "serif";

// A browser that lends no canvas sets the words themselves, out of sight.
/** @type {(text: string, font: string) => number} */
function widthAsSet(text, font) {
  const span = document.createElement("span");
  Object.assign(span.style, { position: "absolute", visibility: "hidden", whiteSpace: "pre", font });
  span.textContent = text;
  document.body.append(span);
  const wide = span.getBoundingClientRect().width;
  span.remove();
  return wide;
}

/**
 * The room that words take in a row, in the unit of `size`.
 * @type {(text: string, size: number, weight?: number, italic?: boolean) => number}
 */
export function widthOf(text, size, weight = 400, italic = false) {
  const font = `${italic ? "italic " : ""}${weight} ${SIZE}px ${family()}`;
  if (!pen) return (widthAsSet(text, font) * size) / SIZE;
  pen.font = font;
  return (pen.measureText(text).width * size) / SIZE;
}

/**
 * Where the middle of words must stand, as near to `x` as it can, so that they stay between two ends.
 * @type {(x: number, text: string, size: number, low: number, high: number, weight?: number, italic?: boolean) => number}
 */
export function keptWithin(x, text, size, low, high, weight = 400, italic = false) {
  const half = widthOf(text, size, weight, italic) / 2;
  return Math.min(high - half, Math.max(low + half, x));
}

// When the typeface has come, or is known not to: what was measured before may then be measured again.
export const typefaceHere = Promise.allSettled(
  ["400", "600", "italic 400"].map((style) => document.fonts.load(`${style} ${SIZE}px ${family().split(",")[0]}`)),
);
