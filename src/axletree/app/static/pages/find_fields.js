// Which fields belong to a step of the way? Drawn anew only when they change.

import { $, make, put } from "../shared/page.js";
import { drawingFrom } from "../shared/drawing.js";
import * as words from "../words/find.js";

let drawn = "";
export function noFields() {
  put("#drawing").hidden = true;
  drawn = "";
}
// `shown` names the views of the step, which were reckoned `at`; of a hop its turned field stands
// beside the one as it is.
export function drawFields(views, shown, at, hop) {
  const there = shown.filter((name) => views[name]),
    key = JSON.stringify([at, there]);
  if (key === drawn) return;
  drawn = key;
  $("#drawing").hidden = false;
  const drawings = (there.length ? there : ["bare_eye"]).map((name) => drawingFrom(views[name].drawing));
  const turns = hop && drawings.length > 1;
  put(
    "#drawing",
    ...(turns ? drawings.map((one, k) => make("figure", {}, make("figcaption", {}, words.TURNED[k]), one)) : drawings),
  );
}
