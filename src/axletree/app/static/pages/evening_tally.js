// How many looked, and what is to be remarked with the next tick?

import { $ } from "../shared/page.js";

// `state` holds both until the tick, `keep` lets it outlive a reload.
/** @type {(given: { state: any, keep: () => void, inHand: () => any, run: () => void }) => void} */
export function tally({ state, keep, inHand, run }) {
  for (const [id, step] of /** @type {[string, number][]} */ ([
    ["fewer", -1],
    ["more", 1],
  ]))
    $(`#${id}`).addEventListener("click", () => {
      const own = inHand();
      if (!own) return;
      state.tally[own.catalogue_id] = Math.max(0, (state.tally[own.catalogue_id] ?? 0) + step);
      keep();
      run();
    });
  $("#remark").value = state.remark;
  $("#remark").addEventListener("input", (event) => {
    state.remark = event.target.value;
    keep();
  });
}
