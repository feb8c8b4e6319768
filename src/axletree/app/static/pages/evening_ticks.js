// How is a stop ticked off? At once on the page, with or without a link, and open again if refused.

import { $, failed, fine, notice, now, put } from "../shared/page.js";
import { send, takeRefused } from "../shared/link.js";
import { newId } from "../shared/new_id.js";
import * as say from "../words/evening.js";

// Ticks are kept without a link; everything else needs the machine, which plans.
export function ticking({ state, keep, looked, took, day, shown }) {
  async function tickOff(stateWord) {
    const own = looked();
    if (!own) return;
    const key = own.catalogue_id,
      tickRow = {
        day: day(),
        at: now().toISOString(),
        key,
        uid: newId(),
        state: stateWord,
        visitors: stateWord === "done" ? (state.tally[key] ?? null) : null,
        note: state.remark.trim(),
      };
    state.waiting.push({ ...tickRow, name: own.name, planned: own });
    state.remark = "";
    $("#remark").value = "";
    keep();
    put("#said", say.wasTicked(own.name, stateWord === "done"));
    shown();
    scrollTo({ top: 0, behavior: "smooth" });
    try {
      const reply = await send("POST", "/evening/tick", tickRow);
      if (reply) {
        took(reply);
        fine();
      }
    } catch (error) {
      state.waiting = state.waiting.filter((w) => w.uid !== tickRow.uid);
      state.remark = tickRow.note;
      keep();
      shown();
      failed(error);
    }
  }
  // A tick that was kept and then refused is open again.
  function reopened() {
    const back = takeRefused("/evening/tick");
    for (const { body, problem: words } of back) {
      const was = state.waiting.find((w) => w.uid === body.uid);
      state.waiting = state.waiting.filter((w) => w.uid !== body.uid);
      state.remark ||= body.note;
      notice("tick", say.notTicked(was?.name, words));
    }
    if (back.length) keep();
    return back.length > 0;
  }
  return { tickOff, reopened };
}
