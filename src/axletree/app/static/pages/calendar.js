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
import { BRASS, el, FAINT, HAIR, INK, line, placeIn, sheet, words } from "../shared/pen.js";
import { day } from "../shared/words.js";
import * as say from "../words/calendar.js";

const ROW = 236,
  TOOTH = 58,
  SMALL = 18,
  DEEP = 38,
  BODIES = 62,
  HOURS = 70,
  TALL = 30,
  BELOW = 114,
  SLOT = 19.4,
  LEFT = 8;
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

// One rule a month. A tooth is as tall as the night's score; under the rule smaller ones for the
// deep sky and for Moon and planets, then the hours of showing, filled while the Moon is up.
function draw() {
  const columns = matchMedia("(min-width: 1100px)").matches ? 2 : 1,
    months = [];
  for (const n of data.nights) {
    const key = n[0].slice(0, 7);
    if (months[months.length - 1]?.key !== key) months.push({ key, nights: [] });
    months[months.length - 1].nights.push(n);
  }
  const wide = LEFT * 2 + 31 * SLOT,
    rows = Math.ceil(months.length / columns),
    svg = sheet(wide * columns, rows * ROW + 12, say.sheet(data.from, data.to));
  svg.setAttribute("role", "group"); // it holds the index, which can be moved
  const named = new Set(data.best_nights),
    place = new Map(),
    longest = Math.max(0.1, ...data.nights.map((n) => n[4]));
  months.forEach((m, i) => {
    const ox = Math.floor(i / rows) * wide + LEFT,
      base = (i % rows) * ROW + 108,
      [year, month] = m.key.split("-").map(Number);
    svg.append(
      words(ox, base - TOOTH - 24, say.month(month, year, month === 1 || i === 0), 21, {
        "text-anchor": "start",
        "font-style": "italic",
        fill: FAINT,
      }),
    );
    const days = new Date(Date.UTC(year, month, 0)).getUTCDate(),
      d = ["", ""];
    for (let k = 0; k <= days; k += 1)
      d[k % 5 === 0 ? 1 : 0] += `M${(ox + k * SLOT).toFixed(1)} ${base}v${k % 5 === 0 ? 8 : 4}`;
    svg.append(
      line(ox, base + DEEP, ox + days * SLOT, base + DEEP, HAIR, 1),
      line(ox, base + BODIES, ox + days * SLOT, base + BODIES, HAIR, 1),
      line(ox, base, ox + days * SLOT, base, INK, 1.6),
      el("path", { d: d[0], stroke: INK, "stroke-width": 0.9 }),
      el("path", { d: d[1], stroke: INK, "stroke-width": 1.6 }),
    );
    for (const n of m.nights) {
      const number = Number(n[0].slice(8)),
        x = ox + (number - 0.5) * SLOT,
        pick = named.has(n[0]);
      place.set(n[0], [x, base]);
      svg.append(line(x, base, x, base - (n[1] / 100) * TOOTH, pick ? INK : HAIR, pick ? 9 : 6));
      small(svg, x, base + DEEP, n[2]);
      small(svg, x, base + BODIES, n[3]);
      hours(svg, x, base + HOURS, TALL / longest, n);
      if (pick)
        svg.append(
          words(x, base - (n[1] / 100) * TOOTH - 6, number, 20, {
            "font-weight": 600,
            "paint-order": "stroke",
            stroke: "var(--paper)",
            "stroke-width": 6,
          }),
        );
    }
  });
  for (const p of data.moon_phases) {
    const spot = place.get(iso(Date.parse(p.at) - 12 * 3600000));
    if (!spot || !["new", "full"].includes(p.phase)) continue;
    svg.append(
      el("circle", {
        cx: spot[0],
        cy: spot[1] + BELOW,
        r: 4.6,
        fill: p.phase === "new" ? INK : "none",
        stroke: INK,
        "stroke-width": 1.6,
      }),
    );
  }
  for (const n of data.special_nights) {
    const spot = place.get(n.date);
    if (spot)
      svg.append(
        el("path", { d: `M${spot[0].toFixed(1)} ${spot[1] + BELOW - 6}l5 6l-5 6l-5-6z`, fill: INK, class: "special" }),
      );
  }
  const index = el(
    "g",
    { role: "slider", tabindex: 0, "aria-label": say.NIGHT, class: "movable" },
    el("path", { d: "M0 4l9 17h-18z", fill: BRASS }),
    line(0, 4, 0, -5, BRASS, 2.4),
  );
  svg.append(index);
  svg.addEventListener("pointerdown", (event) => {
    const [right, down] = placeIn(svg, event);
    let best = null;
    for (const [date, [x, y]] of place) {
      const off = Math.hypot((x - right) * 1.5, y + BELOW / 2 - TOOTH / 2 - down);
      if (!best || off < best.off) best = { date, off };
    }
    if (best && best.off < ROW) void look(best.date);
  });
  index.addEventListener("keydown", (event) => {
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
  pen = { index, place };
  put("#drawing", svg);
  mark();
}
function small(svg, x, y, value) {
  if (value >= 1) svg.append(line(x, y, x, y - (value / 100) * SMALL, INK, 6));
}
// A night's hours from dusk down, with the Moon's as a bar: the wider, the more of it is lit.
function hours(svg, x, top, scale, [, , , , length, lit, up]) {
  svg.append(line(x, top, x, top + scale * length, FAINT, 1));
  for (const [from, to] of up)
    svg.append(line(x, top + scale * from, x, top + scale * to, INK, SLOT * (0.2 + 0.7 * lit)));
}
function mark() {
  const spot = pen?.place.get(at),
    i = data.nights.findIndex((n) => n[0] === at);
  if (!spot) return;
  pen.index.setAttribute("transform", `translate(${spot[0].toFixed(1)} ${spot[1].toFixed(1)})`);
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
onLead(() => data && show());
onKit(() => busy(update(), say.SCORING));
onBack(update);
start();
busy(update(), say.SCORING);
