// How is what is in hand told: what it is, how long yet, and why?

import { $, make, page, put } from "../shared/page.js";
import { capital, clock, countdown } from "../shared/words.js";
import { figures, noFigures } from "./evening_figures.js";
import { ms, STEPS } from "./evening_hand.js";

const EMPTY = { "session over": "The hours are over", clouds: "Clouds hide the rest" };
const called = (s) =>
  [s.also_called[0], `${s.kind}${s.constellation ? ` in ${s.constellation}` : ""}`].filter(Boolean).join(", ");
export const write = (selector, text) => {
  const e = $(selector);
  if (e.textContent !== text) put(e, text);
};
let said = "";

// `pick` is a stop that somebody looks at, in hand or not.
export function tellNow(data, { hand, pick, stops, t }) {
  const s = pick ?? hand.stop ?? null;
  $("#count").hidden = false;
  if (hand.stage && !pick) {
    write("#when", `Setting up, until ${clock(new Date(hand.stage.end), page.zone)}`);
    write("#answer", hand.stage.name);
    write("#count", countdown((ms(hand.stage.end) - t) / 1000));
    put(
      "#because",
      hand.stage.answer,
      " ",
      STEPS[hand.stage.name] ? make("a", { href: STEPS[hand.stage.name] }, `The page for it.`) : "",
      hand.next
        ? ` Next: ${hand.next.name}.`
        : ` Next: ${stops[0].name} at ${clock(new Date(stops[0].begin), page.zone)}.`,
    );
    noFigures();
  } else if (hand.wait && !pick) {
    write("#when", data.date_words);
    write("#answer", `Be there at ${clock(new Date(hand.wait.begin), page.zone)}`);
    const left = (ms(hand.wait.begin) - t) / 1000;
    write("#count", left < 86400 ? countdown(left) : "");
    $("#count").hidden = left >= 86400;
    write(
      "#because",
      `${stops.length} stops, the first at ${clock(new Date(stops[0].begin), page.zone)}, the last until ${clock(new Date(stops[stops.length - 1].end), page.zone)}. Moon: ${data.darkness.moon.phase}, ${Math.round(data.darkness.moon.lit_fraction * 100)} % lit.`,
    );
    noFigures();
  } else if (s) {
    const before = (ms(s.begin) - t) / 1000,
      left = (ms(s.end) - t) / 1000,
      place = data.ticked.length + stops.indexOf(s) + 1;
    write(
      "#when",
      `${pick ? "Looked at" : before > 0 ? "Next" : "Now"}: stop ${place} of ${data.ticked.length + stops.length}${s.promised ? ", promised" : ""}`,
    );
    put("#answer", s.name);
    const words =
      before > 0
        ? ` until it begins at ${clock(new Date(s.begin), page.zone)}`
        : left > 0
          ? " left for the queue"
          : " over its time";
    const figure = before > 0 ? countdown(before) : left > 0 ? countdown(left) : `+${countdown(-left)}`;
    if ($("#count").dataset.words !== words) {
      put("#count", make("span", {}), make("small", {}, words));
      $("#count").dataset.words = words;
    }
    write("#count span", figure);
    write(
      "#because",
      `${capital(called(s))}. ${pick || !hand.next ? "" : `Then ${hand.next.name} at ${clock(new Date(hand.next.begin), page.zone)}${hand.next.chosen.side !== s.chosen.side ? ", the tube goes over" : ""}${hand.next.view.eyepiece !== s.view.eyepiece ? `, eyepiece ${hand.next.view.eyepiece}` : ""}.`}`,
    );
    figures(s, t, data.units);
    const aloud = before <= 0 && left <= 0 && !pick ? `The time of ${s.name} is over.` : "";
    if (aloud !== said) {
      said = aloud;
      put("#said", aloud);
    }
  } else {
    write("#when", data.date_words);
    write(
      "#answer",
      data.session
        ? (EMPTY[data.empty_because] ?? (data.ticked.length ? "The evening is over" : "No stops"))
        : "No stars tonight",
    );
    write("#count", "");
    write(
      "#because",
      data.session
        ? `${data.ticked.filter((x) => x.state === "done").length} shown. ${capital(data.words)} Tube off before the weights.`
        : capital(data.order.words),
    );
    noFigures();
  }
  if (!s || (hand.stage && !pick) || (hand.wait && !pick)) delete $("#count").dataset.words;
}
