// When and through what was a picture taken, as a JPEG's own EXIF says? Places in it are not read.
// Source: CIPA DC-008 (Exif 2.32), tags of time, zone, exposure and focal length; TIFF 6.0 for their order.

const BLOCK = 0x8769,
  TAKEN = 0x9003,
  TAKEN_ELSE = 0x0132,
  ZONE = 0x9011,
  ZONE_ELSE = 0x9010,
  SUBSECONDS = 0x9291,
  EXPOSURE = 0x829a,
  FOCAL_35 = 0xa405,
  WIDTHS = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1, 9: 4, 10: 8 },
  HEAD_BYTES = 262144, // EXIF stands at the beginning, in at most 64 kB
  MOST_TAGS = 500;

/** @typedef {{ taken: string, exposure_s: number | null, focal_35_mm: number | null }} Says */

/** @type {(file: Blob) => Promise<Says>} */
export async function exifOf(file) {
  const nothing = { taken: "", exposure_s: null, focal_35_mm: null };
  try {
    const block = exifBlock(new DataView(await file.slice(0, HEAD_BYTES).arrayBuffer()));
    return block ? says(block) : nothing;
  } catch {
    return nothing; // cut off or damaged: it says nothing
  }
}

// The TIFF structure inside a JPEG's APP1 segment.
/** @type {(view: DataView) => DataView | null} */
function exifBlock(view) {
  if (view.getUint16(0) !== 0xffd8) return null;
  for (let at = 2; at + 4 < view.byteLength; ) {
    const marker = view.getUint16(at),
      length = view.getUint16(at + 2);
    if (marker >> 8 !== 0xff || marker === 0xffda || length < 2) return null;
    if (marker === 0xffe1 && length > 16 && view.getUint32(at + 4) === 0x45786966)
      return new DataView(view.buffer, view.byteOffset + at + 10, Math.min(length - 8, view.byteLength - at - 10));
    at += 2 + length;
  }
  return null;
}

/** @type {(tiff: DataView) => Says} */
function says(tiff) {
  const little = tiff.getUint16(0) === 0x4949,
    first = tags(tiff, tiff.getUint32(4, little), little),
    own = first.has(BLOCK) ? tags(tiff, Number(first.get(BLOCK)), little) : new Map(),
    number = (value) => (typeof value === "number" && Number.isFinite(value) && value > 0 ? value : null),
    begun = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)$/.exec(String(own.get(TAKEN) ?? first.get(TAKEN_ELSE) ?? "")),
    parts = /^(\d{1,6})/.exec(String(own.get(SUBSECONDS) ?? "")),
    zone = /^[+-]\d\d:\d\d$/.exec(String(own.get(ZONE) ?? own.get(ZONE_ELSE) ?? "").trim());
  return {
    taken: begun
      ? `${begun[1]}-${begun[2]}-${begun[3]}T${begun[4]}${parts ? `.${parts[1].padEnd(6, "0")}` : ""}${zone ? zone[0] : ""}`
      : "",
    exposure_s: number(own.get(EXPOSURE)),
    focal_35_mm: number(own.get(FOCAL_35)),
  };
}

/** @type {(tiff: DataView, at: number, little: boolean) => Map<number, string | number>} */
function tags(tiff, at, little) {
  const found = new Map(),
    count = Math.min(tiff.getUint16(at, little), MOST_TAGS);
  for (let k = 0; k < count; k += 1) {
    const entry = at + 2 + 12 * k,
      type = tiff.getUint16(entry + 2, little),
      many = tiff.getUint32(entry + 4, little),
      bytes = (WIDTHS[type] ?? 0) * many;
    if (!bytes || bytes > 4096) continue;
    const place = bytes > 4 ? tiff.getUint32(entry + 8, little) : entry + 8;
    if (place + bytes > tiff.byteLength) continue;
    found.set(tiff.getUint16(entry, little), value(tiff, place, type, many, little));
  }
  return found;
}

/** @type {(tiff: DataView, at: number, type: number, many: number, little: boolean) => string | number} */
function value(tiff, at, type, many, little) {
  if (type === 2 || type === 7) {
    let text = "";
    for (let k = 0; k < many; k += 1) {
      const letter = tiff.getUint8(at + k);
      if (letter) text += String.fromCharCode(letter);
    }
    return text.trim();
  }
  if (type === 3) return tiff.getUint16(at, little);
  if (type === 5) return tiff.getUint32(at, little) / tiff.getUint32(at + 4, little);
  if (type === 10) return tiff.getInt32(at, little) / tiff.getInt32(at + 4, little);
  return tiff.getUint32(at, little);
}
