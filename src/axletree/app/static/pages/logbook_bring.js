// How does a file come back into the logbook? Evening by evening: each is small, and one that is
// there already adds nothing.

import { $, now, put } from "../shared/page.js";
import { post } from "../shared/link.js";
import * as say from "../words/logbook.js";

const LARGEST = 64000000,
  LARGEST_PART = 590000;

export function bringing(update) {
  $("#bring").addEventListener("change", async (event) => {
    const file = event.target.files[0],
      bar = $("#bring-bar"),
      refuse = (words_) => {
        put("#bring-problem", words_).hidden = false;
        bar.hidden = true;
      };
    $("#bring-problem").hidden = true;
    put("#bring-said");
    if (!file) return;
    event.target.value = "";
    if (file.size > LARGEST) {
      refuse(say.tooLarge(file.name, LARGEST));
      return;
    }
    let book = null;
    try {
      book = JSON.parse(await file.text());
    } catch {
      /* told below */
    }
    if (book?.format !== "axletree logbook" || !Array.isArray(book.evenings)) {
      refuse(say.notOurs(file.name));
      return;
    }
    bar.hidden = false;
    let added = 0;
    for (const [i, evening_] of book.evenings.entries()) {
      const part = { ...book, evenings: [evening_] },
        done = Math.round(((i + 1) / book.evenings.length) * 100);
      try {
        if (new Blob([JSON.stringify(part)]).size > LARGEST_PART) throw new Error(say.TOO_LARGE_PART);
        added += (await post("/logbook/import", { at: now().toISOString(), export: part })).added;
      } catch (error) {
        refuse(say.refusedPart(i, book.evenings.length, i + 1, error.message));
        await update();
        return;
      }
      bar.setAttribute("aria-valuenow", done);
      $("i", bar).style.width = `${done}%`;
    }
    bar.hidden = true;
    put("#bring-said", say.added(added, book.evenings.length));
    await update();
  });
}
