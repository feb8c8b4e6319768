// Which site and which tube, of those that have files beside the kit? Chosen for every page.

import { $, $$, make, put, radios } from "../shared/page.js";
import * as say from "../words/kit.js";

// `parts` as the machine tells them; `choose(part, name)` takes another. Not while something on
// this page isn't kept (`open` is false then): it was made for what lies there now.
export function showParts(parts, open, choose) {
  const box = $("#parts"),
    focused = $$("input", box).find((radio) => radio === document.activeElement)?.name;
  box.hidden = !parts.length;
  put(
    box,
    ...parts.map((p) => group(p, choose)),
    parts.length && !open ? make("p", { class: "faint" }, say.KEEP_FIRST) : null,
  );
  for (const radio of $$("input", box)) {
    radio.disabled = !open;
    if (focused === radio.name && radio.checked) radio.focus();
  }
}
function group({ part, names, chosen, in_kit }, choose) {
  const all = in_kit || !chosen ? ["", ...names] : names;
  return make(
    "div",
    { class: "choices", role: "radiogroup", "aria-label": say.partOf(part) },
    make("strong", {}, say.partOf(part)),
    ...radios(
      `chosen-${part}`,
      all.map((name) => [name, say.partNamed(name)]),
      chosen,
      (name) => void choose(part, name),
    ),
  );
}
