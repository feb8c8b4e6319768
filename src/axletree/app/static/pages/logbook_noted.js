// How does a note of the mount stand in its list? With a button that takes it back.

import { make } from "../shared/page.js";
import { capital } from "../shared/words.js";
import * as say from "../words/logbook.js";

/** @type {(words: string, takeBack: () => void) => Element[]} */
export const notedRow = (words, takeBack) => [
  make("strong", {}, capital(words)),
  make(
    "button",
    { type: "button", class: "wordy", "aria-label": say.takeBackOf(words), onclick: takeBack },
    say.TAKE_BACK,
  ),
];
