// Which night? Every night of a year as a tooth on a rule of its month; one of them is looked at.

import {
  $,
  $$,
  busy,
  failed,
  fine,
  list,
  make,
  now,
  onBack,
  onKit,
  onLead,
  onSettings,
  put,
  set,
  start,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { typefaceHere } from "../shared/measure.js";
import { placeIn } from "../shared/pen.js";
import { day } from "../shared/words.js";
import * as say from "../words/calendar.js";
import { yearSheet } from "./calendar_year.js";

let data = null,
  at = "",
  first = "",
  on = [],
  pen = null;
const noon = (iso) => Date.parse(`${iso}T12:00:00Z`);
const iso = (t) => new Date(t).toISOString().slice(0, 10);

const fetchYear = latest((signal) => ask("calendar", { first, on: on.join(","), at: now().toISOString() }, signal), 60);
const fetchNight = latest((signal, date) => ask("calendar/night", { first: data.from, day: date }, signal), 120);
async function update() {
  try {
    data = await fetchYear();
    fine();
    if (!at || !data.nights.some((n) => n[0] === at)) at = top()?.date ?? data.from;
    show();
    await look(at, false);
  } catch (error) {
    failed(error);
  }
}
const top = () => [...data.best].sort((a, b) => b.score - a.score || (a.date < b.date ? -1 : 1))[0] ?? null;
const night = () => data.nights.find((n) => n[0] === at);

function show() {
  list(
    "#best",
    data.best.map((n) => [
      make(
        "button",
        {
          type: "button",
          class: "stop",
          onclick: () => {
            void look(n.date);
            scrollTo({ top: 0, behavior: "smooth" });
          },
        },
        make("strong", {}, n.score.toFixed(0)),
        day(n.date),
        make("span", { class: "under" }, n.reason),
      ),
    ]),
  );
  if (!data.best.length) put("#best", make("li", {}, say.NONE));
  list(
    "#special",
    data.special_nights.map((n) => [
      make(
        "button",
        {
          type: "button",
          class: "stop",
          onclick: () => {
            void look(n.date);
            scrollTo({ top: 0, behavior: "smooth" });
          },
        },
        make("strong", {}, "·"),
        day(n.date),
        make("span", { class: "under" }, n.words),
      ),
      n.caution ? make("p", { class: "caution" }, n.caution) : "",
    ]),
  );
  if (!data.special_nights.length) put("#special", make("li", {}, say.NONE_SPECIAL));
  list("#assumed", [data.counted, say.counted(data), ...data.assumed]);
  $("#from-tonight").hidden = !first;
  for (const box of $$('input[name="on"]')) box.checked = on.includes(box.value);
  draw();
}

function draw() {
  const svg = yearSheet(data, {
    columns: matchMedia("(min-width: 1100px)").matches ? 2 : 1,
    across: $("#drawing").clientWidth || 640,
  });
  pen = { index: svg.index, place: svg.place };
  svg.element.addEventListener("pointerdown", (event) => {
    const date = svg.nearest(...placeIn(svg.element, event));
    if (date) void look(date);
  });
  svg.index.addEventListener("keydown", (event) => {
    const steps = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -7, ArrowDown: 7, PageUp: -30, PageDown: 30 },
      all = data.nights.map((n) => n[0]),
      i = all.indexOf(at);
    const to =
      event.key === "Home"
        ? 0
        : event.key === "End"
          ? all.length - 1
          : steps[event.key] === undefined
            ? null
            : Math.min(all.length - 1, Math.max(0, i + steps[event.key]));
    if (to === null) return;
    event.preventDefault();
    void look(all[to]);
  });
  put("#drawing", svg.element);
  mark();
}
function mark() {
  const spot = pen?.place.get(at),
    i = data.nights.findIndex((n) => n[0] === at);
  if (!spot) return;
  pen.index.setAttribute("transform", `translate(${spot.x.toFixed(1)} ${spot.y.toFixed(1)})`);
  for (const [k, v] of Object.entries({
    "aria-valuemin": 0,
    "aria-valuemax": data.nights.length - 1,
    "aria-valuenow": i,
    "aria-valuetext": say.value(at, night()),
  }))
    pen.index.setAttribute(k, v);
}

async function look(date, moved = true) {
  at = date;
  mark();
  const n = night(),
    best = top();
  put("#when", say.rank(date, n, date === best?.date, data.best_nights.includes(date)));
  put("#answer", day(date, false));
  $("#plan").hidden = n[4] <= 0;
  $("#plan").href = `/evening?day=${date}`;
  if (moved) set({ at: date });
  try {
    const found = await fetchNight(date);
    if (found.night) {
      put("#because", found.night.reason, say.stops(found.night));
      list(
        "#tonight",
        found.special.flatMap((s) =>
          s.caution ? [s.words, make("strong", { class: "caution" }, s.caution)] : [s.words],
        ),
      );
    }
  } catch (error) {
    failed(error);
  }
}
// The evening's page takes the night for everybody, if the one who leads plans it.
$("#plan").addEventListener("click", () => set({ day: at }, "evening"));
for (const box of $$('input[name="on"]'))
  box.addEventListener("change", () => {
    on = $$('input[name="on"]:checked').map((b) => b.value);
    set({ on });
    at = "";
    void busy(update(), say.CHOOSING);
  });
const shift = (years) => {
  const t = new Date(noon(data.from));
  t.setUTCFullYear(t.getUTCFullYear() + years);
  first = iso(t);
  at = "";
  set({ first });
  void busy(update(), say.SCORING);
};
$("#year-before").addEventListener("click", () => data && shift(-1));
$("#year-after").addEventListener("click", () => data && shift(1));
$("#from-tonight").addEventListener("click", () => {
  first = "";
  at = "";
  set({ first: null });
  void busy(update(), say.SCORING);
});
onSettings((shared) => {
  const next = shared.first ?? "",
    days = shared.on ?? [];
  if (next !== first || days.join() !== on.join()) {
    first = next;
    on = days;
    at = shared.at ?? "";
    if (data) void busy(update(), say.SCORING);
  } else if (shared.at && shared.at !== at && data?.nights.some((n) => n[0] === shared.at)) void look(shared.at, false);
  else if (shared.at && !data) at = shared.at;
});
matchMedia("(min-width: 1100px)").addEventListener("change", () => data && draw());
// What was measured before the typeface came is measured again.
void typefaceHere.then(() => data && draw());
onLead(() => data && show());
onKit(() => busy(update(), say.SCORING));
onBack(update);
start(busy(update(), say.SCORING));
