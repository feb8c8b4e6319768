// Which other night is looked at?

import { $, put } from "../shared/page.js";
import * as say from "../words/evening.js";
import { ms } from "./evening_hand.js";

// `shown` gives what is told of the night that is looked at, `go` looks at another; "" is tonight.
/** @type {(given: { shown: () => any, go: (day: string) => void }) => void} */
export function otherNights({ shown, go: looked }) {
  function wrong(words) {
    put("#day-problem", words).hidden = !words;
    $("#day").setAttribute("aria-invalid", String(Boolean(words)));
  }
  function go(day) {
    wrong("");
    looked(day);
  }
  const shift = (days) => {
    const night = shown();
    if (night) go(new Date(ms(`${night.date}T12:00:00Z`) + days * 86400000).toISOString().slice(0, 10));
  };
  $("#night-before").addEventListener("click", () => shift(-1));
  $("#night-after").addEventListener("click", () => shift(1));
  $("#tonight").addEventListener("click", () => go(""));
  $("#day").addEventListener("change", (event) => {
    const text = event.target.value.trim(),
      right = /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(ms(`${text}T12:00:00Z`));
    if (right) go(text);
    else wrong(say.noDate(text));
  });
}
