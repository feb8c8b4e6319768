// Where did the person stop? And, where there is room for it, what stands outside?

import { $$, put, start } from "../shared/page.js";
import { ask } from "../shared/link.js";
import { drawingFrom } from "../shared/drawing.js";
import { WERE_HERE } from "../words/start.js";

const last = localStorage.getItem("axletree-last");
for (const link of $$("#index a")) {
  if (link.dataset.name !== last) continue;
  link.classList.add("last");
  link.append(Object.assign(document.createElement("span"), { className: "apart", textContent: WERE_HERE }));
}
start();
// A kit that can't be drawn says so on its own page.
if (matchMedia("(min-width: 1200px)").matches)
  ask("rig/side")
    .then((found) => put("#drawing", drawingFrom(found.drawing) ?? ""))
    .catch(() => {});
