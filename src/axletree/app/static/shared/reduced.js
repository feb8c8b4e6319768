// How does a picture become small enough to be handled? Its pixels alone are kept: no place, no name of a camera.

import { make } from "./elements.js";

/** @typedef {{ canvas: HTMLCanvasElement, width: number, height: number }} Reduced */

/**
 * A picture no wider than so many pixels, and how wide and tall it was. `upright`: turned as its camera was held; else
 * as it lay on the sensor. Fails for what this browser can't open.
 * @type {(file: Blob, mostWide: number, upright?: boolean) => Promise<Reduced>}
 */
export async function reduced(file, mostWide, upright = true) {
  const orientation = /** @type {ImageOrientation} */ (upright ? "from-image" : "none"),
    whole = await createImageBitmap(file, { imageOrientation: orientation }),
    { width, height } = whole,
    wide = Math.min(mostWide, width),
    canvas = /** @type {HTMLCanvasElement} */ (
      make("canvas", { width: wide, height: Math.round((height * wide) / width) })
    ),
    pen = canvas.getContext("2d");
  pen.imageSmoothingQuality = "high";
  pen.drawImage(whole, 0, 0, canvas.width, canvas.height);
  whole.close();
  return { canvas, width, height };
}

/**
 * The canvas as a JPEG of fewer bytes than `most`, or null where even the poorest is larger.
 * @type {(canvas: HTMLCanvasElement, most: number) => Promise<Blob | null>}
 */
export async function asJpeg(canvas, most) {
  for (const quality of [0.95, 0.9, 0.85, 0.8, 0.7, 0.6, 0.5]) {
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", quality));
    if (blob && blob.size < most) return blob;
  }
  return null;
}

/**
 * The same light, stretched so that stars show, white on black: from the 20th to the 99.8th percentile.
 * @type {(canvas: HTMLCanvasElement, mostWide: number, flipped?: boolean) => HTMLCanvasElement}
 */
export function stretched(canvas, mostWide, flipped = false) {
  const wide = Math.min(mostWide, canvas.width),
    out = /** @type {HTMLCanvasElement} */ (
      make("canvas", { width: wide, height: Math.round((canvas.height * wide) / canvas.width) })
    ),
    pen = out.getContext("2d");
  if (flipped) pen.setTransform(1, 0, 0, -1, 0, out.height);
  pen.drawImage(canvas, 0, 0, out.width, out.height);
  const image = pen.getImageData(0, 0, out.width, out.height),
    d = image.data,
    counts = new Uint32Array(256),
    all = d.length / 4;
  for (let i = 0; i < d.length; i += 4) {
    const grey = Math.round(0.299 * d[i] + 0.587 * d[i + 1] + 0.114 * d[i + 2]);
    d[i] = grey;
    counts[grey] += 1;
  }
  const level = (part) => {
    let sum = 0;
    for (let v = 0; v < 256; v += 1) {
      sum += counts[v];
      if (sum >= part * all) return v;
    }
    return 255;
  };
  const dark = level(0.2),
    bright = Math.max(level(0.998), dark + 1);
  for (let i = 0; i < d.length; i += 4) {
    const shown = Math.min(Math.max((d[i] - dark) / (bright - dark), 0), 1) ** 0.7;
    d[i] = d[i + 1] = d[i + 2] = Math.round(255 * shown);
  }
  pen.putImageData(image, 0, 0);
  return out;
}
