// The phone sheet: one clock, one state, five leaves. Everything it knows came with the file.

import { $, $$, button, make, put, refresh } from "./dom.js";
import { nightOf } from "./night.js";
import { runOf } from "./run.js";
import { makeDial } from "./dial.js";
import { makeRigView } from "./rigview.js";
import { makeNow } from "./leaf_now.js";
import { makeOrder } from "./leaf_order.js";
import { makePole } from "./leaf_pole.js";
import { makeNotes } from "./leaf_notes.js";
import { makeSheet } from "./leaf_sheet.js";
import * as say from "./field_words.js";
import { BRASS, el, INK, line, words } from "./pen.js";
import { watchDrawings } from "./readable.js";
import { clock } from "./words.js";
import { azimuthAltitude, clockHour } from "./clock.js";
import { walk } from "./order.js";
import { isoAt, logbookFile, openStore } from "./record.js";

const packed = Uint8Array.from(atob($("#data").textContent), (c) => c.charCodeAt(0));
const sheet = JSON.parse(
  await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate-raw"))).text(),
);
const night = nightOf(sheet.tables),
  run = runOf(sheet, night),
  { evening } = sheet;
const store = openStore(`axletree-field-${sheet.uid}`),
  saved = store.read() ?? {};
const settings = { light: "red", offset: 0, leaf: "now", ...saved.settings };
let zone = evening.place.time_zone,
  zoneNote = "",
  ahead = null,
  taps = false;
try {
  clock(new Date(), zone);
} catch {
  zone = "UTC";
  zoneNote = say.unknownZone(evening.place.time_zone);
}

watchDrawings($("#leaf"));
const field = {
  sheet,
  night,
  run,
  zone,
  store,
  state: { ...run.start(), ...saved.state },
  shown: null,
  offset: () => settings.offset,
  real: () => Date.now() / 1000 + settings.offset,
  now: () => (ahead === null ? field.real() : field.real() + ahead),
  taps: () => taps,
  setTaps(on) {
    taps = on;
  },
  set(state) {
    field.state = state;
    keep();
    draw(true);
  },
  redraw() {
    draw(true);
  },
  shift(seconds) {
    settings.offset = Math.round(seconds);
    keep();
    draw(true);
  },
  // Another time of the sheet's own night, as seconds of the day; null is the real time.
  lookAt(wanted) {
    if (wanted === null) ahead = null;
    else {
      const from = night.begin - 6 * 3600,
        shown = clock(new Date(from * 1000), zone, true)
          .split(":")
          .map(Number),
        day = shown[0] * 3600 + shown[1] * 60 + shown[2];
      ahead = from + ((wanted - day + 86400) % 86400) - field.real();
    }
    choose("now");
  },
  plain: $("#plain"),
};
const keep = () => store.write({ settings, state: field.state });
field.dial = makeDial(sheet.tables.pole, night, zone);
field.rig = makeRigView(sheet.rig);
const leaves = {
  now: makeNow(field),
  order: makeOrder(field),
  pole: makePole(field),
  notes: makeNotes(field),
  sheet: makeSheet(field),
};

function light(name) {
  settings.light = name;
  document.documentElement.dataset.light = name;
  $("meta[name=theme-color]").content = { day: "#fbf8f1", dusk: "#171513", red: "#000000" }[name];
  for (const b of $$("[data-choose-light]")) b.setAttribute("aria-pressed", String(b.dataset.chooseLight === name));
  field.rig.setLight(name);
}
for (const b of $$("[data-choose-light]"))
  b.addEventListener("click", () => {
    light(b.dataset.chooseLight);
    keep();
  });

function choose(leaf) {
  settings.leaf = leaf;
  for (const b of $$("[data-leaf]")) {
    if (b.dataset.leaf === leaf) b.setAttribute("aria-current", "page");
    else b.removeAttribute("aria-current");
  }
  put("#leaf", leaves[leaf].element);
  window.scrollTo(0, 0);
  keep();
  draw(true);
}
for (const b of $$("[data-leaf]")) b.addEventListener("click", () => choose(b.dataset.leaf));

// What the thumb can do now.
const acts = {
  all: (now) => field.set(run.allSet(field.state, now)),
  done: (now) => field.set(run.stageDone(field.state, now)),
  skip: (now) => field.set(run.ticked(field.state, now, field.shown.item.row.key, false)),
  shown: (now) => field.set(run.ticked(field.state, now, field.shown.item.row.key, true)),
  one: () => field.set(run.count(field.state, field.shown.item.row.key, 1)),
  beat: (now) => {
    leaves.now.rebeat(now);
    draw(true);
  },
};
function thumbs() {
  const wanted = settings.leaf === "now" ? leaves.now.acts(field.shown) : [];
  refresh("#acts", wanted, () =>
    wanted.map(([what, label, before, look]) =>
      button([before ? make("span", {}, before) : "", label], () => acts[what](field.now()), {
        class: look ?? "plainly",
        "data-act": what,
      }),
    ),
  );
  $("#acts").hidden = wanted.length === 0;
}

// The evening as a rule under the clock: hours, stops, and where it stands now.
const firstAt = run.main[0]?.from ?? run.first ?? night.begin,
  lastAt = Math.max(run.planned.at(-1)?.end ?? 0, night.begin + 3600);
function rule(now, rows) {
  const W = 390,
    x = (t) => 12 + Math.min(Math.max((t - firstAt) / (lastAt - firstAt), 0), 1) * (W - 24),
    svg = $("#along");
  const ticks = ["", ""],
    labels = [];
  for (let t = Math.ceil(firstAt / 600) * 600; t <= lastAt; t += 600) {
    const local = Number(clock(new Date(t * 1000), zone).slice(3)),
      long = local === 0;
    ticks[long ? 1 : 0] += `M${x(t).toFixed(1)} 19v${long ? 9 : local === 30 ? 7 : 4}`;
    if (long) labels.push(words(x(t), 41, clock(new Date(t * 1000), zone).slice(0, 2), 14));
  }
  const bar = (r, width) => line(x(r.start), 17, Math.max(x(r.end) - 1.4, x(r.start) + 1), 17, INK, width);
  svg.replaceChildren(
    line(12, 19, W - 12, 19, INK, 1.4),
    el("path", { d: ticks[0], stroke: INK, "stroke-width": 0.9 }),
    el("path", { d: ticks[1], stroke: INK, "stroke-width": 1.8 }),
    ...labels,
    ...rows.map((r) => bar(r, 5)),
    el("path", { d: `M${x(now).toFixed(1)} 15l-7 -14h14z`, fill: BRASS }),
  );
}

function notices(now) {
  const said = [],
    tonight = now > firstAt - 12 * 3600 && now < lastAt + 8 * 3600;
  if (ahead !== null) said.push(["ahead", say.shownAsAt(now, zone)]);
  else if (!tonight) said.push(["day", say.otherNight(night.begin, now, zone)]);
  if (sheet.evening.stop_sign && now < (run.first ?? lastAt)) said.push(["stop", sheet.evening.stop_sign]);
  if (settings.offset) said.push(["off", say.clockSetByYou(settings.offset)]);
  if (!store.kept) said.push(["store", store.why]);
  if (zoneNote) said.push(["zone", zoneNote]);
  refresh("#notice", said, () =>
    said.map(([what, text]) =>
      make(
        "p",
        {},
        what === "stop" ? make("b", {}, text) : text,
        what === "ahead"
          ? button(say.BACK_TO_NOW, () => field.lookAt(null), { class: "wordy" })
          : what === "day"
            ? button(
                say.LOOK_THROUGH,
                () => {
                  ahead = (run.first ?? night.begin) - field.real();
                  choose("now");
                },
                { class: "wordy" },
              )
            : null,
      ),
    ),
  );
  $("#notice").hidden = said.length === 0;
}

let heard = "";
function draw(fresh = false) {
  const now = field.now(),
    shown = run.at(field.state, now);
  // The way on which the rig stands before what is in hand.
  shown.way = field.state.byClock ? null : field.state.pose;
  field.shown = shown;
  if (fresh) leaves.order.fresh();
  $("#clock").textContent = clock(new Date(now * 1000), zone, true);
  rule(now, shown.rows);
  notices(now);
  leaves[settings.leaf].show(now, shown);
  thumbs();
  const title =
    shown.item.kind === "stop"
      ? run.things.get(shown.item.row.key).name
      : shown.item.kind === "stage"
        ? shown.item.stage.name
        : "";
  if (title !== heard) {
    heard = title;
    $("#heard").textContent = title ? say.nowIs(title) : "";
  }
}

export function begin() {
  document.body.classList.add("alive");
  $("#still", field.plain).hidden = true;
  light(["day", "dusk", "red"].includes(settings.light) ? settings.light : "red");
  choose(settings.leaf in leaves ? settings.leaf : "now");
  (function tick() {
    if (!document.hidden) draw();
    setTimeout(tick, 1000 - ((Date.now() + settings.offset * 1000) % 1000) + 5);
  })();
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) draw(true);
  });
}
// For those who look from outside: what the sheet holds in hand, and its own arithmetic.
/** @type {any} */ (window).axletree = {
  field,
  night,
  run,
  nightOf,
  walk,
  isoAt,
  azimuthAltitude,
  clockHour,
  file: () => logbookFile(sheet, field.state.entries, zone),
};
