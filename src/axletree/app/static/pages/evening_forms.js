// What if clouds come, or the hours change?

import { $, $$, now, page, put } from "../shared/page.js";
import { clock } from "../shared/words.js";
import * as say from "../words/evening.js";
import { ms } from "./evening_hand.js";

/** @type {(given: { change: any, problem: any, answer: () => any, looked: () => any }) => { hoursShown: () => void, live: (now: any) => void, close: () => void }} */
export function forms({ change, problem, answer, looked }) {
  // One is open at a time; on a wide screen what is no form of its own stays in view.
  const PANELS = { late: "late-form", clouds: "cloud-form", hours: "hours-form", note: "note-form" };
  function unfold(name, open) {
    for (const [other, id] of Object.entries(PANELS)) {
      const shown = other === name && open,
        panel = $(`#${id}`);
      if (panel.matches(".panel")) panel.classList.toggle("open", shown);
      else panel.hidden = !shown;
      $(`#${other}`).setAttribute("aria-expanded", String(shown));
    }
  }
  const isOpen = (name) => $(`#${name}`).getAttribute("aria-expanded") === "true";
  for (const [name, id] of Object.entries(PANELS))
    $(`#${name}`).addEventListener("click", () => {
      unfold(name, !isOpen(name));
      if (isOpen(name)) $(`#${id} :is(input, button):not(:disabled)`)?.focus();
    });
  $("#promise").addEventListener("click", () => {
    const own = looked();
    if (own) void change("promise", { key: own.catalogue_id, promised: !own.promised }, say.NOTING);
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
      unfold("clouds", false);
      $("#clouds").focus();
      for (const x of $$('input[name="direction"]')) x.checked = false;
    }
  });
  // Other hours; asked for of itself where only they are over. Those that are over begin anew now.
  let hoursFor = "",
    over = false;
  const onlyHours = () => Boolean(over || answer()?.empty_because === "session over");
  function hoursShown() {
    const s = answer().session,
      past = onlyHours(),
      own = s ? `${s.first_stop}|${s.end}|${past}` : answer().date;
    if (own !== hoursFor) {
      hoursFor = own;
      $("#session-start").value = s ? clock(past ? now() : new Date(s.first_stop), page.zone) : "";
      $("#session-hours").value = s ? String(Math.round((ms(s.end) - ms(s.first_stop)) / 36000) / 100) : "";
    }
    if (onlyHours() && page.leads) unfold("hours", true);
  }
  function sessionProblem(words) {
    put("#session-problem", words).hidden = !words;
  }
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
      unfold("hours", onlyHours());
      $("#hours").focus();
    }
  });
  // Late: the rest is planned again, or this stop lasts longer.
  const close = () => unfold("hours", onlyHours() && page.leads);
  for (const id of ["#again", "#anew"])
    $(id).addEventListener("click", () => change("again").then((done) => done && close()));
  for (const button of $$("[data-late]"))
    button.addEventListener("click", () =>
      change("again", { in_min: Number(button.dataset.late) }).then((done) => done && close()),
    );
  for (const id of ["#shown", "#skip"]) $(id).addEventListener("click", close);
  $("#longer").addEventListener("click", () => change("longer", { minutes: 10 }).then((done) => done && close()));
  // The evening ends where it stands; 'take back' goes on with it.
  $("#end-now").addEventListener("click", async () => {
    const s = answer().session,
      hours = (now().getTime() - ms(s.first_stop)) / 3600000;
    if (await change("hours", { start: clock(new Date(s.first_stop), page.zone), hours })) unfold("hours", false);
  });
  // No button is live without something that it could change.
  function live({ stops, running, own, hand }) {
    const free = hand.idle === "open",
      begun = free || hand.behind?.begun;
    $("#anew").hidden = !(hand.behind || free) || !page.leads;
    put("#anew", say.anew(begun));
    if ((hand.over === "tonight") !== over) {
      over = !over;
      if (answer()) hoursShown();
    }
    const s = answer()?.session ?? null,
      started = s && ms(s.first_stop) < now().getTime() - 60000;
    $("#hours").disabled = !answer();
    for (const id of ["late", "clouds"]) $(`#${id}`).disabled = !s;
    for (const button of $$("#again, [data-late]")) button.disabled = !s;
    $("#longer").disabled = !running;
    $("#note").disabled = !own;
    $("#promise").disabled = !own;
    $("#promise").setAttribute("aria-pressed", String(Boolean(own?.promised)));
    $("#end-now").disabled = !started || !stops || over;
  }
  return { hoursShown, live, close };
}
