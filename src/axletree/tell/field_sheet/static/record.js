// What was shown and noted, and how does it get home? Kept on the phone where the browser allows
// it, in memory where it doesn't; exported as a file that 'axletree log import' reads.

import { KEEPS_NOTHING, STORE_FULL } from "./field_words.js";

// A store for one sheet. `kept` is false where the browser keeps nothing; `why` says it aloud.
export function openStore(key, storage = () => window.localStorage) {
  let place = null,
    why = "";
  try {
    place = storage();
    place.setItem(`${key}-try`, "1");
    place.removeItem(`${key}-try`);
  } catch {
    place = null;
    why = KEEPS_NOTHING;
  }
  return {
    get kept() {
      return place !== null;
    },
    get why() {
      return why;
    },
    read() {
      try {
        return place ? JSON.parse(place.getItem(key)) : null;
      } catch {
        return null;
      }
    },
    write(value) {
      if (!place) return;
      try {
        place.setItem(key, JSON.stringify(value));
      } catch {
        place = null;
        why = STORE_FULL;
      }
    },
  };
}

// A moment as ISO 8601 with the offset that the site's clocks have then.
export function isoAt(at, zone) {
  const date = new Date(Math.floor(at) * 1000),
    parts = {};
  for (const p of new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
    hourCycle: "h23",
  }).formatToParts(date))
    parts[p.type] = p.value;
  const local = Date.UTC(parts.year, parts.month - 1, parts.day, parts.hour, parts.minute, parts.second);
  const minutes = Math.round((local - date.getTime()) / 60000),
    size = Math.abs(minutes),
    two = (n) => String(n).padStart(2, "0");
  return `${parts.year}-${parts.month}-${parts.day}T${parts.hour}:${parts.minute}:${parts.second}${minutes < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

// The file: one evening with its stops and notes, in the logbook's own layout (version 1).
export function logbookFile(sheet, entries, zone) {
  const at = (entry) => isoAt(entry.at, zone);
  const evening = {
    uid: sheet.uid,
    date: sheet.evening.date,
    site: sheet.evening.place.name,
    latitude_deg: sheet.evening.place.latitude_deg,
    longitude_deg: sheet.evening.place.longitude_deg,
    kit_name: sheet.evening.rig.kit_name,
    kit_toml: sheet.kit_toml,
    run_sheet: JSON.stringify(sheet.evening),
    begun_at: entries.length ? at(entries[0]) : sheet.evening.made_at,
    stop: entries
      .filter((e) => e.kind === "stop")
      .map((e) => ({
        uid: e.uid,
        at: at(e),
        object: e.object,
        catalogue_id: e.catalogue_id,
        state: e.state,
        visitors: e.visitors ?? null,
        note: e.note ?? "",
      })),
    note: entries.filter((e) => e.kind === "note").map((e) => ({ uid: e.uid, at: at(e), text: e.text })),
  };
  return JSON.stringify({ format: "axletree logbook", version: 1, evenings: [evening] }, null, 1);
}

export function download(fileName, text) {
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = Object.assign(document.createElement("a"), { href: address, download: fileName });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}
