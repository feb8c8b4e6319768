// How much room do words take in a drawing? The browser measures, with the typeface that the page is set in.

const pen = /** @type {CanvasRenderingContext2D} */ (document.createElement("canvas").getContext("2d"));
const SIZE = 100; // large, so that no width is rounded to whole points

// The family as the style sheet names it, what stands in for it included.
const family = () => getComputedStyle(document.documentElement).getPropertyValue("--serif").trim() || "serif";

/**
 * The room that words take in a row, in the unit of `size`.
 * @type {(text: string, size: number, weight?: number, italic?: boolean) => number}
 */
export function widthOf(text, size, weight = 400, italic = false) {
  pen.font = `${italic ? "italic " : ""}${weight} ${SIZE}px ${family()}`;
  return (pen.measureText(text).width * size) / SIZE;
}

// When the typeface has come, or is known not to: what was measured before may then be measured again.
export const typefaceHere = Promise.allSettled(
  ["400", "600", "italic 400"].map((style) => document.fonts.load(`${style} ${SIZE}px ${family()}`)),
);
