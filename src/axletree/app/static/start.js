// Where did the person stop?

import { $$, start } from "./page.js";

const last = localStorage.getItem("axletree-last");
for (const link of $$("#index a")) {
  if (link.dataset.name !== last) continue;
  link.classList.add("last");
  link.append(Object.assign(document.createElement("span"), { className: "apart", textContent: " (you were here)" }));
}
start();
