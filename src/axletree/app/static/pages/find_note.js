// How is it noted, by a tap, that an object was found, or that it wasn't?

import { busy, failed, make, now, page, put } from "../shared/page.js";
import { post } from "../shared/link.js";
import { newId } from "../shared/new_id.js";
import * as words from "../words/find.js";

// What the latest note was, so that it can be taken back: { of, uid, evening }.
let noted = null;

// Who went away meanwhile took no such time.
const LONGEST_MIN = 60;
function minutesOf(state) {
  const minutes = (now().getTime() - state.began) / 60000;
  return state.began && minutes >= 0 && minutes <= LONGEST_MIN ? minutes : null;
}
// A button that notes how it went, or takes the note back; `after` shows the page anew.
export function noteButtons(asked, state, found, after) {
  const of = JSON.stringify([asked.object, state.began]),
    tap = (label, act) =>
      make("button", { type: "button", class: "plainly", disabled: !page.leads, onclick: act }, label);
  if (noted?.of === of) return [tap(words.TAKE_NOTE_BACK, () => takeBack(after))];
  const minutes = minutesOf(state);
  return [
    tap(words.noteIt(asked.way, state.swept, found, minutes), async () => {
      const uid = newId(),
        at = now().toISOString();
      try {
        const given = { at, uid, ...asked, swept: Boolean(state.swept), found, minutes: found ? minutes : null };
        const reply = await busy(post("/logbook/found", given), words.NOTING);
        noted = { of, uid, evening: reply.evening };
        put("#said", words.NOTED);
        after();
      } catch (error) {
        failed(error);
      }
    }),
  ];
}
async function takeBack(after) {
  try {
    await post("/logbook/take-back", { at: now().toISOString(), evening: noted.evening, uid: noted.uid });
    noted = null;
    put("#said", words.NOTE_TAKEN_BACK);
    after();
  } catch (error) {
    failed(error);
  }
}
