// What if clouds come, or the hours change?

import { $, $$, page, put } from "../shared/page.js";
import { clock } from "../shared/words.js";
import * as say from "../words/evening.js";
import { ms } from "./evening_hand.js";

/** @type {(given: { change: any, problem: any, answer: () => any }) => { hoursShown: () => void }} */
export function forms({ change, problem, answer }) {
  $("#clouds").addEventListener("click", () => {
    const form = $("#cloud-form");
    form.hidden = !form.hidden;
    $("#clouds").setAttribute("aria-expanded", String(!form.hidden));
    if (!form.hidden) $("input", form).focus();
  });
  $("#cloud-form").addEventListener("submit", async (event) => {
    event.preventDefault();
    const directions = $$('input[name="direction"]:checked').map((x) => x.value),
      minutes = $('input[name="minutes"]:checked').value;
    if (!directions.length) {
      problem(say.WHERE_ARE_CLOUDS);
      return;
    }
    if (
      await change("clouds", {
        directions,
        part: $('input[name="part"]:checked').value,
        minutes: minutes ? Number(minutes) : null,
      })
    ) {
      $("#cloud-form").hidden = true;
      $("#clouds").setAttribute("aria-expanded", "false");
      $("#clouds").focus();
      for (const x of $$('input[name="direction"]')) x.checked = false;
    }
  });
  // Other hours; asked for of itself where only they are over.
  let hoursFor = "";
  function unfold(open) {
    $("#hours-form").hidden = !open;
    $("#hours").setAttribute("aria-expanded", String(open));
  }
  function hoursShown() {
    const s = answer().session,
      own = s ? `${s.first_stop}|${s.end}` : answer().date;
    if (own !== hoursFor) {
      hoursFor = own;
      $("#session-start").value = s ? clock(new Date(s.first_stop), page.zone) : "";
      $("#session-hours").value = s ? String(Math.round((ms(s.end) - ms(s.first_stop)) / 36000) / 100) : "";
    }
    if (answer().empty_because === "session over" && page.leads) unfold(true);
  }
  function sessionProblem(words) {
    put("#session-problem", words).hidden = !words;
  }
  $("#hours").addEventListener("click", () => {
    unfold($("#hours-form").hidden);
    if (!$("#hours-form").hidden) $("#session-start").focus();
  });
  $("#hours-form").addEventListener("submit", async (event) => {
    event.preventDefault();
    const start = $("#session-start").value.trim().replace(".", ":"),
      hours = Number($("#session-hours").value.trim().replace(",", "."));
    const rightStart = /^([01]?\d|2[0-3]):[0-5]\d$/.test(start),
      rightHours = hours > 0 && hours <= 16;
    $("#session-start").setAttribute("aria-invalid", String(!rightStart));
    $("#session-hours").setAttribute("aria-invalid", String(!rightHours));
    sessionProblem(!rightStart ? say.WRITE_THE_START : !rightHours ? say.WRITE_THE_HOURS : "");
    if (rightStart && rightHours && (await change("hours", { start: start.padStart(5, "0"), hours }))) {
      unfold(answer().empty_because === "session over");
      $("#hours").focus();
    }
  });
  return { hoursShown };
}
