// How is what is in hand told: what it is, how long yet, and why?

import { $, make, page, put } from "../shared/page.js";
import { countdown } from "../shared/words.js";
import * as say from "../words/evening.js";
import { figures, noFigures } from "./evening_figures.js";
import { ms, STEPS } from "./evening_hand.js";

export const write = (selector, text) => {
  const e = $(selector);
  if (e.textContent !== text) put(e, text);
};
// Words with a link among them: written anew only when they change, so that it can be tapped.
function because(...children) {
  const text = children.map((c) => c?.textContent ?? c).join(""),
    link = children.find((c) => c?.href);
  if ($("#because").textContent !== text || $("#because a")?.href !== link?.href) put("#because", ...children);
}
let said = "",
  way = "";
// How it is found: written anew only when it changes, so that the link can be tapped.
function tellWay(s) {
  const words = s?.finding ? say.findIt(s) : "",
    key = s ? s.catalogue_id + words : "";
  if (key === way) return;
  way = key;
  const href = s ? `/find?object=${encodeURIComponent(s.name)}` : "/find";
  // The bar under the thumb leads to the same.
  for (const link of document.querySelectorAll('.thumb a[href^="/find"]')) link.setAttribute("href", href);
  put("#way", words, words ? " " : "", words ? make("a", { href }, say.STEP_BY_STEP) : "");
}

// While the plan is made.
export function tellPlanning(when, because) {
  tellWay(null);
  write("#when", when);
  write("#answer", say.PLANNING_NIGHT);
  write("#count", "");
  delete $("#count").dataset.words;
  write("#because", because);
  noFigures();
}

// `pick` is a stop that somebody looks at, in hand or not.
export function tellNow(data, { hand, pick, stops, done, t }) {
  const s = pick ?? hand.stop ?? null;
  $("#count").hidden = false;
  tellWay((hand.stage || hand.wait) && !pick ? null : s);
  if (hand.stage && !pick) {
    write("#when", say.settingUpUntil(hand.stage.end, page.zone));
    write("#answer", hand.stage.name);
    write("#count", countdown((ms(hand.stage.end) - t) / 1000));
    because(
      data.stop_sign ? make("b", {}, data.stop_sign, " ") : "",
      hand.stage.answer,
      " ",
      STEPS[hand.stage.name] ? make("a", { href: STEPS[hand.stage.name] }, say.PAGE_FOR_IT) : "",
      say.afterStage(hand.next, stops[0], page.zone),
    );
    noFigures();
  } else if (hand.wait && !pick) {
    write("#when", data.date_words);
    write("#answer", say.beThere(hand.wait.begin, page.zone));
    const left = (ms(hand.wait.begin) - t) / 1000;
    write("#count", left < 86400 ? countdown(left) : "");
    $("#count").hidden = left >= 86400;
    because(
      data.stop_sign ? make("b", {}, data.stop_sign, " ") : "",
      `${say.ahead(stops, data.darkness.moon, page.zone)} ${data.tonight} `,
      make("a", { href: `/rehearse?day=${data.date}` }, say.REHEARSE),
    );
    noFigures();
  } else if (s) {
    const before = (ms(s.begin) - t) / 1000,
      left = (ms(s.end) - t) / 1000,
      place = done.length + stops.indexOf(s) + 1,
      begun = !hand.behind || hand.behind.begun;
    write("#when", say.stopOf(s, { pick, before, begun, place, count: done.length + stops.length }));
    put("#answer", s.name);
    const [figure, words] = say.counted(s, before, left, page.zone);
    if ($("#count").dataset.words !== words) {
      put("#count", make("span", {}), make("small", {}, words));
      $("#count").dataset.words = words;
    }
    write("#count span", figure);
    const idle = hand.idle && !pick ? say.idle(before, hand.idle === "open") : "";
    write("#because", `${idle}${say.what(s, pick ? null : hand.next, t, page.zone)}`);
    figures(s, t, data.units, data.rig.hour_marks);
    const aloud = before <= 0 && left <= 0 && !pick ? say.timeIsOver(s.name) : "";
    if (aloud !== said) {
      said = aloud;
      put("#said", aloud);
    }
  } else {
    write("#when", data.date_words);
    write("#answer", hand.over ? say.HOURS_OVER : say.nothingLeft(data));
    write("#count", "");
    write("#because", hand.over ? say.leftOpen(data, stops, hand.over === "tonight", page.zone) : say.afterAll(data));
    noFigures();
  }
  if (!s || (hand.stage && !pick) || (hand.wait && !pick)) delete $("#count").dataset.words;
}
