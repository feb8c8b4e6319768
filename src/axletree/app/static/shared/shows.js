// What Moon, planet or double star show in an eyepiece, and what may be said of an object.

import { make, put } from "./page.js";
import { shows, TO_SAY } from "../words/shared.js";

/** @type {(data: {better_side?: string | null, eyepiece?: {words: string[]} | null, sayings?: string[]}) => void} */
export function showsAtEyepiece(data) {
  const told = (title, rows) =>
    rows.length ? [make("h2", {}, title), ...rows.map((words) => make("p", {}, words))] : [];
  put("#shows", ...told(shows(data.better_side), data.eyepiece?.words ?? []), ...told(TO_SAY, data.sayings ?? []));
}
