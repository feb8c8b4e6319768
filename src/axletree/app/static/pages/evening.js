// What is now, what is next, and what if it goes differently? The run sheet as a rule of time.

import {
  $,
  asking,
  busy,
  draft,
  failed,
  fine,
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
import { keepAnswer } from "../shared/kept.js";
import { ask, latest, onRefused, post } from "../shared/link.js";
import { timeline } from "../shared/timeline.js";
import { capital } from "../shared/words.js";
import * as say from "../words/evening.js";
import { asKit, beside } from "./evening_beside.js";
import { firstRule } from "./evening_first.js";
import { forms } from "./evening_forms.js";
import { currentOf, handOf, ms, nameOf, stopsToCome, tickedOf } from "./evening_hand.js";
import { tellNow, write } from "./evening_now.js";
import { otherNights } from "./evening_nights.js";
import { order } from "./evening_order.js";
import { rowsOf } from "./evening_rule.js";
import { strip } from "./evening_strip.js";
import { tally } from "./evening_tally.js";
import { ticking } from "./evening_ticks.js";
import { workButtons } from "./evening_work.js";

// Ticks that have not come back from the machine yet stand in `waiting`; they outlive a reload.
const state = { waiting: [], tally: {}, remark: "", ...(draft.read("evening") ?? {}) };
let data = null,
  awaited = null,
  planning = null,
  rule = null,
  chosen = "",
  day = new URLSearchParams(location.search).get("day") ?? "",
  drawnFor = "",
  toFocus = null,
  freshFor = 0,
  last = "";
const FRESH_MS = 30_000;
const keep = () => draft.write("evening", state);

const fetchAnswer = latest((signal) => ask("evening", { day, at: now().toISOString() }, signal), 60);
const update = () => asking(fetchAnswer, took);
// A night that isn't planned yet: its times and a first order at once, the plan when it is made.
const fetchFirst = latest((signal) => ask("evening/first", { day, at: now().toISOString() }, signal), 60);
async function plan(seen = (_) => {}) {
  const own = { day, changed: false };
  planning = own;
  await asking(fetchFirst, (found) => (found.first ? tookFirst(found) : took(found)));
  seen(day);
  if (planning !== own) return;
  planning = null;
  if (awaited || own.changed) await update();
}
function tookFirst(found) {
  awaited = found;
  data = null;
  chosen = last = drawnFor = "";
  nothingLive();
  rule = firstRule(found);
  nightShown();
}
// Nothing can be changed that isn't planned.
function nothingLive() {
  for (const id of ["#one", "#ticks", "#works", "#back"]) $(id).hidden = true;
  live({ stops: 0, running: false, own: null, hand: {} });
  close();
}
function took(found) {
  reopened();
  data = found;
  awaited = null;
  void keepAnswer("evening", { day }, found);
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

const ticked = () => tickedOf(data, state.waiting);
const toCome = () => stopsToCome(data, ticked());
const stopOf = (key) => toCome().find((s) => s.catalogue_id === key) ?? null;
const inHand = (t) => handOf(data, ticked(), t);
// The stop that somebody looks at, or that is in hand.
const looked = () => (data ? ((chosen ? stopOf(chosen) : null) ?? inHand(now().getTime()).stop) : null);

function show() {
  put("#order-words", say.aboutOrder(data.words, data.own_order));
  beside(data, { putNext, open: (which) => change("open", { which }) });
  const back = $("#back");
  back.hidden = !data.undo;
  put(back, data.undo ? say.takeBack(data.undo) : "");
  nightShown();
  hoursShown();
  if ($("#remark").value !== state.remark && document.activeElement !== $("#remark")) $("#remark").value = state.remark;
  if (chosen && !stopOf(chosen)) chosen = "";
  draw();
  run();
}

function nightShown() {
  // What was typed wrong stays beside the words that say so.
  if (document.activeElement !== $("#day") && $("#day-problem").hidden) $("#day").value = (data ?? awaited).date;
  $("#tonight").hidden = !day;
}
// The rule of time.
function draw() {
  if (rule?.dragged) return; // what is held in the hand is not taken out of it
  const active = $("#drawing").contains(document.activeElement) ? document.activeElement : null,
    held = active ? [active.closest("li")?.dataset.key, active.matches(".grip") ? ".grip" : ".stop"] : null;
  const hand = inHand(now().getTime()),
    current = currentOf(hand, now().getTime()),
    done = ticked(),
    stops = toCome();
  drawnFor = nameOf(hand, now().getTime());
  rule = timeline({
    rows: rowsOf(data, { done, stops, hand, current, chosen }),
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
  const choosing = (key) => choose(key, true);
  put("#strip", strip(data, { stops, gone: done.length, hand: chosen || current, choose: choosing }));
  put("#drawing", rule.element);
  rule.settle();
  if (toFocus) {
    rule.focus(toFocus);
    toFocus = null;
  } else if (held?.[0]) rule.focus(...held);
  rule.now(now().getTime());
}

function run() {
  if (!data) return;
  const t = now().getTime(),
    hand = inHand(t),
    pick = chosen ? stopOf(chosen) : null;
  if (nameOf(hand, t) !== drawnFor) draw();
  rule?.now(t);
  $("#one").hidden = !pick || Boolean(hand.over);
  tellNow(data, { hand, pick, stops: toCome(), done: ticked(), t });
  controls(pick, hand, t);
}

function controls(pick, hand, t) {
  const own = pick ?? hand.stop ?? null;
  $("#ticks").hidden = !own || Boolean(hand.wait || hand.stage) || Boolean(pick && pick !== hand.stop && !hand.over);
  if (own) {
    write("#shown", say.shown(own.name));
    write("#skip", say.SKIP);
    const n = state.tally[own.catalogue_id];
    write("#looked", say.looked(n));
  }
  const runs = hand.stop && ms(hand.stop.begin) <= t;
  live({ stops: toCome().length, running: runs, own, hand });
  if (pick) oneShown(pick, runs);
  work.tell(hand, t);
}

function choose(key, again = false) {
  chosen = key;
  if (again) show();
}
const problem = (words) => {
  put("#change-problem", words).hidden = !words;
};
async function change(what, given = {}, words = say.PLANNING_AGAIN) {
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
    // What was changed, and the way back, stand beside the button for a while.
    $("#back").classList.add("fresh");
    clearTimeout(freshFor);
    freshFor = setTimeout(() => $("#back").classList.remove("fresh"), FRESH_MS);
    return true;
  } catch (error) {
    if (error.status === 422) problem(capital(error.message));
    else failed(error);
    return false;
  }
}
const { moveTo, putNext, oneShown } = order({ toCome, change, chosen: () => chosen, choose });
const { tickOff, reopened } = ticking({
  state,
  keep,
  looked,
  took,
  day: () => data.date,
  shown: () => {
    chosen = "";
    show();
  },
});
$("#shown").addEventListener("click", () => tickOff("done"));
$("#skip").addEventListener("click", () => tickOff("skipped"));
tally({ state, keep, inHand: looked, run });
const work = workButtons({ state, keep, answer: () => data, run });
$("#back").addEventListener("click", () => change("back", {}, say.TAKING_BACK));
const { hoursShown, live, close } = forms({ change, problem, answer: () => data, looked });
// Another night.
function go(to) {
  set({ day: to || null });
  day = to;
  chosen = "";
  drawnFor = "";
  void busy(plan(), say.PLANNING_NIGHT);
}
otherNights({ shown: () => data ?? awaited, go });
onSettings((shared) => {
  if (shared.day !== undefined && shared.day !== day) {
    day = shared.day;
    chosen = "";
  } else if (shared.day === undefined && data && day && !page.leads) day = "";
  if (planning?.day === day) planning.changed = true;
  else void (data || awaited ? update() : plan());
});
asKit(update);
onLead(() => data && show());
onKit(() => busy(plan(), say.PLANNING_NIGHT));
onBack(update);
onRefused(() => reopened() && data && show());
nothingLive();
// What is known at once can be looked through while the plan is made.
start(new Promise((seen) => void busy(plan(seen), say.PLANNING_NIGHT)));
tick(run);
