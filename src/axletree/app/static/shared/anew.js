// What becomes of a page that stands there without anything that it asked for, since the link was lost?

import { $$ } from "./elements.js";
import { standsEmpty } from "./link.js";

const ANEW = "axletree-anew",
  ANEW_MS = 30_000; // where the link comes and goes, no page is loaded over and over

/**
 * Lets nothing be set on it; loads it again when the link is back, and gives whether it does. What was typed outlives that.
 * @type {(linked: boolean) => boolean}
 */
export function beginsAnew(linked) {
  if (!standsEmpty()) return false;
  for (const part of $$("main fieldset, main .control")) part.inert = !linked;
  if (!linked || Date.now() - Number(sessionStorage.getItem(ANEW)) < ANEW_MS) return false;
  sessionStorage.setItem(ANEW, String(Date.now()));
  location.reload();
  return true;
}
