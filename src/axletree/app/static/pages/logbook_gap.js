// Tube and mount met, or something was left between them: it tells of the rig's dimensions.

import { $, busy, failed, list, make, now, put, unfolds } from "../shared/page.js";
import { ask, isLinked, post, send } from "../shared/link.js";
import { newId } from "../shared/new_id.js";
import { capital } from "../shared/words.js";
import * as say from "../words/logbook.js";
import { notedRow } from "./logbook_noted.js";

const takeBack = async (uid) => {
  try {
    await busy(post("/logbook/gap/take-back", { at: now().toISOString(), uid }), say.WRITING);
    put("#said", say.TAKEN);
    await showGaps();
  } catch (error) {
    failed(error);
  }
};

// What was noted of gaps, each with a button that takes it back, and what all of them teach.
export async function showGaps() {
  if (!isLinked()) return;
  const found = await ask("logbook/gaps", { at: now().toISOString() });
  $("#gap-open").hidden = !found.counts;
  list(
    "#gaps-noted",
    found.gaps.map((one) => notedRow(one.words, () => takeBack(one.key))),
  );
  put("#gaps-taught", ...found.taught.map((line) => make("li", {}, line)));
}
export function makeGaps() {
  unfolds("gap");
  $("#gap-form").addEventListener("submit", async (event) => {
    event.preventDefault();
    const object = $("#gap-object").value.trim(),
      side = $('input[name="gap-side"]:checked')?.value,
      wrong = object ? (side ? "" : say.GAP_SIDE) : say.GAP_OBJECT;
    if (wrong) {
      put("#gap-problem", wrong).hidden = false;
      return;
    }
    const given = { at: now().toISOString(), uid: newId(), object, side, left: $("#gap-left").value };
    try {
      const reply = await busy(send("POST", "/logbook/gap", given), say.WRITING);
      put("#said", reply ? say.GAP_NOTED : say.KEPT);
      put("#gap-problem").hidden = true;
      $("#gap-left").value = "";
      await showGaps();
    } catch (error) {
      if (error.status === 422) put("#gap-problem", capital(error.message)).hidden = false;
      else failed(error);
    }
  });
}
