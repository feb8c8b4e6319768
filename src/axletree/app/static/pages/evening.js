// What is now, what is next, and what if it goes differently? The run sheet as a rule of time.

import {
  $,
  $$,
  busy,
  draft,
  failed,
  fine,
  list,
  make,
  notice,
  now,
  onBack,
  onKit,
  onLead,
  onSettings,
  page,
  put,
  set,
  start,
  tick,
} from "../shared/page.js";
import { ask, latest, onRefused, post, send, takeRefused } from "../shared/link.js";
import { timeline } from "../shared/timeline.js";
import { mod } from "../shared/clock.js";
import {
  aboveGround,
  capital,
  clock,
  compassPoint,
  countdown,
  degrees,
  duration,
  hoursMinutes,
} from "../shared/words.js";

// Ticks that have not come back from the machine yet stand in `waiting`; they outlive a reload.
const state = { waiting: [], tally: {}, remark: "", ...(draft.read("evening") ?? {}) };
let data = null,
  rule = null,
  chosen = "",
  day = new URLSearchParams(location.search).get("day") ?? "",
  drawnFor = "",
  toFocus = null,
  last = "";
const keep = () => draft.write("evening", state);
const ms = (iso) => Date.parse(iso);
const newUid = () =>
  Array.from(crypto.getRandomValues(new Uint8Array(8)), (b) => b.toString(16).padStart(2, "0")).join("");
const EMPTY = { "session over": "The hours are over", clouds: "Clouds hide the rest" };
const STEPS = { spot: "/spot", level: "/level", north: "/north", balance: "/balance", pole: "/pole", check: "/check" };

const fetchAnswer = latest((signal) => ask("evening", { day, at: now().toISOString() }, signal), 60);
async function update() {
  try {
    took(await fetchAnswer());
    fine();
  } catch (error) {
    failed(error);
  }
}
// A tick that was kept and then refused is open again.
function reopened() {
  const back = takeRefused("/evening/tick");
  for (const { body, problem: words } of back) {
    const was = state.waiting.find((w) => w.uid === body.uid);
    state.waiting = state.waiting.filter((w) => w.uid !== body.uid);
    state.remark ||= body.note;
    notice("tick", `${was?.name ?? "A stop"} was not ticked off: ${words}`);
  }
  if (back.length) keep();
  return back.length > 0;
}
function took(found) {
  reopened();
  data = found;
  const known = new Set(data.ticked.map((t) => t.uid));
  state.waiting = state.waiting.filter((w) => !known.has(w.uid));
  keep();
  const text = JSON.stringify([found, state.waiting]);
  if (text === last) {
    run();
    return;
  }
  last = text;
  show();
}

const ticked = () => [...data.ticked, ...state.waiting.filter((w) => w.day === data.date)];
function toCome() {
  const gone = new Set(ticked().map((t) => t.key));
  return data.stops.filter((s) => !gone.has(s.catalogue_id));
}
const stopOf = (key) => toCome().find((s) => s.catalogue_id === key) ?? null;
const called = (s) =>
  [s.also_called[0], `${s.kind}${s.constellation ? ` in ${s.constellation}` : ""}`].filter(Boolean).join(", ");

// What is in hand: a stage of setting up, a stop, or nothing any more.
function inHand(t) {
  const stops = toCome(),
    first = stops[0] ?? null;
  const main = data.stages.filter((s, i, all) => !all.slice(i + 1).some((n) => ms(n.begin) < ms(s.end) - 1000));
  if (first && !ticked().length && t < ms(first.begin)) {
    const begun = main.filter((s) => ms(s.begin) <= t);
    if (begun.length && t < ms(begun[begun.length - 1].end))
      return { stage: begun[begun.length - 1], next: main[main.indexOf(begun[begun.length - 1]) + 1] ?? null };
    if (!begun.length && main.length) return { wait: main[0] };
  }
  return first ? { stop: first, next: stops[1] ?? null } : {};
}

function show() {
  const s = data.session;
  put(
    "#order-words",
    capital(data.words),
    data.own_order ? " It is your own order; “plan again from now” finds the best one." : "",
  );
  put(
    "#lost",
    ...(data.lost.length
      ? [
          make("h2", {}, "No place any more"),
          data.empty_because === "session over" && !data.broken.length
            ? make("p", {}, `${data.lost.map((g) => g.name).join(", ")}.`)
            : make(
                "ul",
                { class: "rows" },
                ...data.lost.map((g) =>
                  make(
                    "li",
                    {},
                    make("strong", {}, g.name),
                    capital(g.reason),
                    data.broken.includes(g.name) ? make("b", { class: "problem" }, " It was promised.") : "",
                  ),
                ),
              ),
        ]
      : []),
  );
  list(
    "#spares",
    data.spares.map((o) => [
      make(
        "div",
        {},
        make("strong", {}, o.name),
        [o.also_called[0], o.kind].filter(Boolean).join(", "),
        make("br"),
        `free ${clock(new Date(o.free_from), page.zone)}–${clock(new Date(o.free_until), page.zone)}. ${o.why}`,
      ),
      make(
        "button",
        {
          type: "button",
          class: "plainly",
          disabled: !page.leads,
          "aria-label": `Show ${o.name} next`,
          onclick: () => putNext(o.key),
        },
        "next",
      ),
    ]),
  );
  if (!data.spares.length)
    put(
      "#spares",
      make("li", {}, s ? "Nothing else that is worth a stop." : "Nothing: this night has no darkness for stars."),
    );
  list(
    "#stages",
    data.stages.map((g) => [
      make("strong", {}, clock(new Date(g.begin), page.zone)),
      STEPS[g.name] ? make("a", { href: STEPS[g.name] }, g.name) : g.name,
      `: ${g.answer}`,
      ...g.details.map((x) => make("span", { class: "faint" }, ` ${x}`)),
    ]),
  );
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#assumed", [...data.assumptions, ...data.notes]);
  list(
    "#given-up",
    data.given_up.map((g) => `${g.name}: ${g.reason}.`),
  );
  list(
    "#closed",
    data.closed.map((w, i) => [
      `Hidden: ${w}`,
      make(
        "button",
        {
          type: "button",
          class: "wordy take",
          "aria-label": `Open again: ${w}`,
          onclick: () => change("open", { which: i }),
        },
        "open again",
      ),
    ]),
  );
  const back = $("#back");
  back.hidden = !data.undo;
  put(back, data.undo ? `take back: ${data.undo}` : "");
  if (document.activeElement !== $("#day")) $("#day").value = data.date;
  hoursShown();
  $("#tonight").hidden = !day;
  if ($("#remark").value !== state.remark && document.activeElement !== $("#remark")) $("#remark").value = state.remark;
  if (chosen && !stopOf(chosen)) chosen = "";
  draw();
  run();
}

// The rule of time.
const side = (s) => `side ${s.chosen.side}, ${s.view.eyepiece}`;
const room = (s) =>
  s.chosen.room_ends === null ? "room all night" : `room to ${clock(new Date(s.chosen.room_ends), page.zone)}`;
function draw() {
  if (rule?.dragged) return; // what is held in the hand is not taken out of it
  const active = $("#drawing").contains(document.activeElement) ? document.activeElement : null,
    held = active ? [active.closest("li")?.dataset.key, active.matches(".grip") ? ".grip" : ".stop"] : null;
  const hand = inHand(now().getTime()),
    current = hand.stop && ms(hand.stop.begin) <= now().getTime() ? hand.stop.catalogue_id : "";
  drawnFor = `${hand.stop?.catalogue_id}|${hand.stage?.name}|${current}`;
  const rows = [];
  const done = ticked();
  if (!done.length)
    for (const g of data.stages.filter((x) => x.name !== "cool"))
      rows.push({
        key: `stage ${g.name}`,
        from: ms(g.begin),
        to: ms(g.end),
        title: g.name,
        under: "setting up",
        state: hand.stage?.name === g.name ? "now" : "",
      });
  for (const t of done) {
    const end = ms(t.at),
      begin = t.planned ? Math.min(ms(t.planned.begin), end - 60000) : end - 60000;
    rows.push({
      key: `tick ${t.uid}`,
      from: Math.max(begin, end - 3600000),
      to: end,
      title: t.name,
      tag: t.state === "done" ? (t.visitors ? `shown to ${t.visitors}` : "shown") : "skipped",
      under: t.note,
      state: t.state === "done" ? "past" : "skipped",
    });
  }
  rows.sort((a, b) => a.from - b.from);
  const stops = toCome();
  stops.forEach((s, i) => {
    const wait = i ? (ms(s.begin) - ms(stops[i - 1].end)) / 1000 : 0;
    const over = i && stops[i - 1].chosen.side !== s.chosen.side ? `over to ${s.chosen.side}` : "";
    rows.push({
      key: s.catalogue_id,
      from: ms(s.begin),
      to: ms(s.end),
      title: s.name,
      tag: [s.promised ? "promised" : "", over].filter(Boolean).join(", "),
      under: `${side(s)}; ${room(s)}${wait > 600 ? `; ${duration(wait)} to wait before` : ""}`,
      state: s.catalogue_id === chosen ? "chosen" : s.catalogue_id === current ? "now" : "",
      grip: true,
    });
  });
  rule = timeline({
    rows,
    breaks: data.breaks.map(([a, b]) => [ms(a), ms(b)]),
    zone: page.zone,
    canMove: page.leads,
    onchoose: (key) => {
      if (!stopOf(key)) return;
      chosen = chosen === key ? "" : key;
      show();
      rule.focus(key, ".stop");
      if (matchMedia("(max-width: 899px)").matches)
        $("#answer").scrollIntoView({ block: "center", behavior: "smooth" });
    },
    onmove: (key, place) => {
      toFocus = key;
      void moveTo(key, place);
    },
  });
  put("#drawing", rule.element);
  rule.settle();
  if (toFocus) {
    rule.focus(toFocus);
    toFocus = null;
  } else if (held?.[0]) rule.focus(...held);
  rule.now(now().getTime());
}

// The figures of a stop; the circles run with the clock.
let figuresFor = "";
function figures(s, t) {
  const part = (t - ms(s.start.at)) / Math.max(ms(s.finish.at) - ms(s.start.at), 1000),
    span = mod(s.finish.hour_circle_h - s.start.hour_circle_h + 12, 24) - 12;
  const at = Math.max(0, Math.min(part, 3)),
    hour = mod(s.start.hour_circle_h + at * span, 24),
    dec = s.start.declination_circle_deg + at * (s.finish.declination_circle_deg - s.start.declination_circle_deg);
  const nudge =
    s.nudge.every_s === null
      ? s.nudge.direction
      : `every ${duration(s.nudge.every_s)}${s.nudge.knob_turns > 0 ? `: ${s.nudge.knob_turns < 0.1 ? s.nudge.knob_turns.toFixed(3) : s.nudge.knob_turns.toFixed(2)} turn ${s.nudge.direction}` : `. ${s.nudge.direction}`}`;
  const rows = [
    ["tube", `side ${s.chosen.side}`],
    ["eyepiece", `${s.view.eyepiece}, ${s.view.magnification.toFixed(0)} times`],
    ["hour circle", hoursMinutes(mod(Math.round(hour * 60) / 60, 24))],
    ["declination", degrees(dec, 1, true)],
    [
      "eye",
      `${aboveGround(s.view.height_mm, data.units)} high, ${s.view.face_azimuth_deg === null ? s.view.face_words : `face ${compassPoint(s.view.face_azimuth_deg)}`}: ${s.view.reach}`,
    ],
    ["nudge", nudge],
    [
      "room",
      s.chosen.room_ends === null
        ? "all night"
        : `to ${clock(new Date(s.chosen.room_ends), page.zone)}: ${s.chosen.ends_by}`,
    ],
    ["view", s.view.orientation],
  ];
  const key = JSON.stringify(rows);
  if (key === figuresFor) return;
  figuresFor = key;
  put("#figures", ...rows.flatMap(([k, v]) => [make("dt", {}, k), make("dd", {}, v)]));
  put(
    "#beware",
    ...[...s.cautions, ...s.turn_warnings].map((w) => make("p", { class: "caution" }, w)),
    make("p", { class: "faint" }, `${capital(s.visibility)}. ${s.why} ${s.why_side}`),
  );
}
const nothing = () => {
  if (figuresFor) {
    figuresFor = "";
    put("#figures");
    put("#beware");
  }
};
const write = (selector, text) => {
  const e = $(selector);
  if (e.textContent !== text) put(e, text);
};
let said = "";

function run() {
  if (!data) return;
  const t = now().getTime(),
    hand = inHand(t),
    pick = chosen ? stopOf(chosen) : null,
    s = pick ?? hand.stop ?? null;
  if (
    `${hand.stop?.catalogue_id}|${hand.stage?.name}|${hand.stop && ms(hand.stop.begin) <= t ? hand.stop.catalogue_id : ""}` !==
    drawnFor
  )
    draw();
  rule?.now(t);
  $("#one").hidden = !pick;
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
        : ` Next: ${toCome()[0].name} at ${clock(new Date(toCome()[0].begin), page.zone)}.`,
    );
    nothing();
  } else if (hand.wait && !pick) {
    write("#when", data.date_words);
    write("#answer", `Be there at ${clock(new Date(hand.wait.begin), page.zone)}`);
    const left = (ms(hand.wait.begin) - t) / 1000;
    write("#count", left < 86400 ? countdown(left) : "");
    $("#count").hidden = left >= 86400;
    write(
      "#because",
      `${toCome().length} stops, the first at ${clock(new Date(toCome()[0].begin), page.zone)}, the last until ${clock(new Date(toCome()[toCome().length - 1].end), page.zone)}. Moon: ${data.darkness.moon.phase}, ${Math.round(data.darkness.moon.lit_fraction * 100)} % lit.`,
    );
    nothing();
  } else if (s) {
    const before = (ms(s.begin) - t) / 1000,
      left = (ms(s.end) - t) / 1000,
      place = data.ticked.length + toCome().indexOf(s) + 1;
    write(
      "#when",
      `${pick ? "Looked at" : before > 0 ? "Next" : "Now"}: stop ${place} of ${data.ticked.length + toCome().length}${s.promised ? ", promised" : ""}`,
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
    figures(s, t);
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
    nothing();
  }
  if (!s || (hand.stage && !pick) || (hand.wait && !pick)) delete $("#count").dataset.words;
  controls(pick, hand, t);
}

function controls(pick, hand, t) {
  const own = pick ?? hand.stop ?? null;
  $("#ticks").hidden = !own || Boolean(hand.wait || hand.stage) || Boolean(pick && pick !== hand.stop);
  if (own) {
    write("#shown", `${own.name} shown`);
    write("#skip", "skip");
    const n = state.tally[own.catalogue_id];
    write("#looked", n === undefined ? "how many looked?" : `${n} looked`);
  }
  const runs = hand.stop && ms(hand.stop.begin) <= t;
  $("#longer").disabled = !runs;
  if (pick) {
    const at = toCome().indexOf(pick);
    $("#promised").checked = pick.promised;
    $("#earlier").disabled = at <= 0;
    $("#later").disabled = at >= toCome().length - 1;
    $("#next").disabled = at <= (runs ? 1 : 0);
  }
}

// Ticks are kept without a link; everything else needs the machine, which plans.
async function tickOff(stateWord) {
  const own = (chosen ? stopOf(chosen) : null) ?? inHand(now().getTime()).stop;
  if (!own) return;
  const key = own.catalogue_id,
    tickRow = {
      day: data.date,
      at: now().toISOString(),
      key,
      uid: newUid(),
      state: stateWord,
      visitors: stateWord === "done" ? (state.tally[key] ?? null) : null,
      note: state.remark.trim(),
    };
  state.waiting.push({ ...tickRow, name: own.name, planned: own });
  state.remark = "";
  $("#remark").value = "";
  chosen = "";
  keep();
  put("#said", `${own.name} ${stateWord === "done" ? "shown" : "skipped"}.`);
  show();
  scrollTo({ top: 0, behavior: "smooth" });
  try {
    const reply = await send("POST", "/evening/tick", tickRow);
    if (reply) {
      took(reply);
      fine();
    }
  } catch (error) {
    state.waiting = state.waiting.filter((w) => w.uid !== tickRow.uid);
    state.remark = tickRow.note;
    keep();
    show();
    failed(error);
  }
}
function problem(words) {
  put("#change-problem", words).hidden = !words;
}
async function change(what, given = {}, words = "Planning again") {
  problem("");
  try {
    took(
      await busy(
        post(`/evening/${what}`, { day: data.date, at: now().toISOString(), ...given }),
        words,
        $("#change-problem"),
      ),
    );
    fine();
    return true;
  } catch (error) {
    if (error.status === 422) problem(capital(error.message));
    else failed(error);
    return false;
  }
}
const order = (keys) => change("order", { keys });
function moveTo(key, place) {
  const keys = toCome()
    .map((s) => s.catalogue_id)
    .filter((k) => k !== key);
  keys.splice(place, 0, key);
  return order(keys);
}
function putNext(key) {
  const keys = toCome().map((s) => s.catalogue_id),
    first = toCome()[0],
    runs = first && ms(first.begin) <= now().getTime();
  keys.splice(runs ? 1 : 0, 0, key);
  return order(keys);
}

$("#shown").addEventListener("click", () => tickOff("done"));
$("#skip").addEventListener("click", () => tickOff("skipped"));
for (const [id, step] of [
  ["fewer", -1],
  ["more", 1],
])
  $(`#${id}`).addEventListener("click", () => {
    const own = (chosen ? stopOf(chosen) : null) ?? inHand(now().getTime()).stop;
    if (!own) return;
    state.tally[own.catalogue_id] = Math.max(0, (state.tally[own.catalogue_id] ?? 0) + step);
    keep();
    run();
  });
$("#remark").value = state.remark;
$("#remark").addEventListener("input", (event) => {
  state.remark = event.target.value;
  keep();
});
$("#again").addEventListener("click", () => change("again"));
for (const button of $$("[data-late]"))
  button.addEventListener("click", () => change("again", { in_min: Number(button.dataset.late) }));
$("#longer").addEventListener("click", () => change("longer", { minutes: 10 }));
$("#back").addEventListener("click", () => change("back", {}, "Taking it back"));
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
    problem("Where are the clouds? Tick at least one direction.");
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
  const s = data.session,
    own = s ? `${s.first_stop}|${s.end}` : data.date;
  if (own !== hoursFor) {
    hoursFor = own;
    $("#session-start").value = s ? clock(new Date(s.first_stop), page.zone) : "";
    $("#session-hours").value = s ? String(Math.round((ms(s.end) - ms(s.first_stop)) / 36000) / 100) : "";
  }
  if (data.empty_because === "session over" && page.leads) unfold(true);
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
  sessionProblem(
    !rightStart ? "Write the start like 19:30." : !rightHours ? "Write the hours as a number above 0, up to 16." : "",
  );
  if (rightStart && rightHours && (await change("hours", { start: start.padStart(5, "0"), hours }))) {
    unfold(data.empty_because === "session over");
    $("#hours").focus();
  }
});
$("#unchoose").addEventListener("click", () => {
  chosen = "";
  show();
});
$("#next").addEventListener("click", () => {
  const key = chosen;
  void moveTo(key, toCome()[0] && ms(toCome()[0].begin) <= now().getTime() ? 1 : 0);
});
$("#earlier").addEventListener("click", () => moveTo(chosen, toCome().findIndex((s) => s.catalogue_id === chosen) - 1));
$("#later").addEventListener("click", () => moveTo(chosen, toCome().findIndex((s) => s.catalogue_id === chosen) + 1));
$("#out").addEventListener("click", () => {
  const key = chosen;
  chosen = "";
  void order(
    toCome()
      .map((s) => s.catalogue_id)
      .filter((k) => k !== key),
  );
});
$("#promised").addEventListener("change", (event) =>
  change("promise", { key: chosen, promised: event.target.checked }, "Noting it"),
);

// Another night.
function go(to) {
  set({ day: to || null });
  day = to;
  chosen = "";
  drawnFor = "";
  void busy(update(), "Planning the night");
}
const shifted = (days) => new Date(ms(`${data.date}T12:00:00Z`) + days * 86400000).toISOString().slice(0, 10);
$("#night-before").addEventListener("click", () => data && go(shifted(-1)));
$("#night-after").addEventListener("click", () => data && go(shifted(1)));
$("#tonight").addEventListener("click", () => go(""));
$("#day").addEventListener("change", (event) => {
  const text = event.target.value.trim(),
    right = /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(ms(`${text}T12:00:00Z`));
  put("#day-problem", right ? "" : `${text || "That"} is no date; write it like 2026-12-05.`).hidden = right;
  event.target.setAttribute("aria-invalid", String(!right));
  if (right) go(text);
});
onSettings((shared) => {
  if (shared.day !== undefined && shared.day !== day) {
    day = shared.day;
    chosen = "";
  } else if (shared.day === undefined && data && day && !page.leads) day = "";
  void update();
});
onLead(() => data && show());
onKit(() => busy(update(), "Planning the night"));
onBack(update);
onRefused(() => reopened() && data && show());
start();
busy(update(), "Planning the night");
tick(run);
