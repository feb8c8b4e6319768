// What was moved on the mount, or left where it stood? One press notes it with the time it is now.

import { $, busy, failed, list, make, now, page, put, unfolds } from "../shared/page.js";
import { ask, isLinked, post, send } from "../shared/link.js";
import { newId } from "../shared/new_id.js";
import * as say from "../words/logbook.js";
import { notedRow } from "./logbook_noted.js";

const noted = async (work, said) => {
  try {
    put("#said", (await busy(work, say.WRITING)) ? said : say.KEPT);
    await showMoved();
  } catch (error) {
    failed(error);
  }
};
const move = (moved) =>
  noted(send("POST", "/logbook/moved", { at: now().toISOString(), uid: newId(), moved }), say.MOVED[moved][1]);
const takeBack = (uid) => noted(post("/logbook/moved/take-back", { at: now().toISOString(), uid }), say.TAKEN);

// What was noted tonight, each with a button that takes it back.
export async function showMoved() {
  if (!isLinked()) return;
  const found = await ask("logbook/moved", { at: now().toISOString() });
  $("#moved-open").hidden = !found.counts;
  list(
    "#moved-tonight",
    found.moved.map((one) => notedRow(say.movedAt(one, page.zone), () => takeBack(one.uid))),
  );
}
export function makeMoved() {
  put(
    "#movable",
    ...Object.entries(say.MOVED).map(([moved, [name]]) =>
      make("button", { type: "button", class: "plainly", "data-moved": moved, onclick: () => move(moved) }, name),
    ),
  );
  unfolds("moved");
}
