// What do the hands do now to bring an object into the eyepiece? One step after the other, with the clock.

import {
  $,
  $$,
  busy,
  draft,
  failed,
  fine,
  list,
  make,
  now,
  onBack,
  onKit,
  onLead,
  onSettings,
  page,
  put,
  radios,
  say,
  set,
  start,
  tick,
  unbroken,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { onPutBack } from "../shared/put_back.js";
import { chooser, chosenObject, inAddress } from "../shared/choose.js";
import * as words from "../words/find.js";
import { drawFields, noFields } from "./find_fields.js";
import { noteButtons } from "./find_note.js";
import {
  CENTRED,
  chanceOf,
  course,
  legSeconds,
  skyDegrees,
  skyTurns,
  stepBefore,
  stepDone,
  ways,
} from "./find_course.js";

// The object, the moment, the star to begin at and the side stand in the address.
const address = new URLSearchParams(location.search);
let object = address.get("object") ?? "",
  from = address.get("from") ?? "",
  side = address.get("side") ?? "",
  data = null,
  answered = "",
  answeredAt = 0,
  unshared = false; // a star or side that was chosen, and not answered yet
// `step` counts along the way; `leg` along the search (null: none), `back` after it, `seen` at the
// end. `centred` and `paid` are moments (ms): the star stood in the middle, and up to when the sky's
// turn is turned for, `began` when somebody went to work; `swept`: a search was begun. All of it
// belongs to one question (`of`).
const FRESH = { way: "", step: 0, leg: null, back: false, seen: false, centred: 0, paid: 0, began: 0, swept: false };
let state = { ...FRESH, of: "", ...(draft.read("find") ?? {}) };
let way = address.get("way") ?? ""; // of the address, for the first answer
const question = () => [object, from, side].join("|");

const fetchAnswer = latest((signal) => {
  const key = question();
  return ask("find", { object, at: now().toISOString(), from, side }, signal).then((found) => [key, found]);
}, 60);
async function update() {
  if (!object) return;
  try {
    [answered, data] = await fetchAnswer();
    answeredAt = now().getTime();
    wrong("");
    choose.known();
    if (unshared) set({ from, side });
    unshared = false;
    fine();
    if (state.of !== answered) state = { ...FRESH, of: answered, way };
    way = "";
    show();
  } catch (error) {
    if (error.status === 422) wrong(error.message);
    else failed(error);
  }
}
// Nothing can be found: no way, and no field to draw.
function notNow(name) {
  const [large, small] = words.notNow(name);
  say("#answer", large, make("small", {}, small));
  for (const part of ["#paces", "#again", "#course", "#ways", "#rows"]) put(part);
  noFields();
}
// What is wrong is said where it was typed.
function wrong(message) {
  choose.fail(from ? "" : message);
  const problem = $("#start-problem");
  put(problem, from ? message : "").hidden = !(from && message);
  $("#start").setAttribute("aria-invalid", String(Boolean(from && message)));
  if (message && (!data || answered !== question())) {
    data = null;
    notNow(object);
    say("#because", message);
    for (const part of ["#place", "#cautions"]) put(part);
  }
}

const wayNow = () => (ways(data).includes(state.way) ? state.way : ways(data)[0]);
const steps = () => course(data, wayNow());
const stepNow = () => steps()[Math.min(state.step, steps().length - 1)];
const planned = () => (wayNow() === "parallel" ? data.page.parallel_seconds : data.steps?.seconds) ?? 0;

// What has run on since the star was centred.
function live(at = now().getTime()) {
  const turned = state.paid > state.centred;
  return {
    elapsed: state.centred ? (at - state.centred) / 1000 : 0,
    late: skyTurns(data, at, state.centred, planned()),
    lateDeg: skyDegrees(data, at, state.centred, planned()),
    owed: turned ? skyTurns(data, at, state.paid, 0) : 0,
    chance: chanceOf(data, wayNow()),
  };
}
const legLate = () => skyTurns(data, now().getTime(), state.paid, legSeconds(data, state.leg));

function toldNow() {
  if (state.seen) return words.found(data);
  if (state.back) return words.back(data, wayNow());
  if (state.leg !== null) return words.leg(data, state.leg, legLate());
  return words.now(stepNow(), data, live());
}

function show() {
  choose.show(object);
  say("#place", words.place(data, new Date(answeredAt), page.zone));
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  say("#beware", data.page.near_sun);
  if (data.ended) {
    notNow(data.object);
    say("#because", data.words);
    return;
  }
  const all = ways(data);
  put(
    "#ways",
    ...(all.length > 1
      ? radios(
          "way",
          all.map((w) => [w, words.way(w, chanceOf(data, w))]),
          wayNow(),
          choseWay,
        )
      : []),
  );
  list("#rows", [...words.rows(data), data.reckoned_with].filter(Boolean));
  put(
    "#course",
    ...steps().map((step, k) =>
      make("li", k === state.step && !state.seen ? { "aria-current": "step" } : {}, words.inShort(step, data)),
    ),
  );
  $(".find").dataset.step = stepNow().kind;
  paces();
  const { kind, views } = stepNow(),
    shown = state.leg !== null || state.seen ? ["weakest", "planned"] : views;
  drawFields(data.page.views, shown, answeredAt, kind === "hop");
  run();
}
function run() {
  if (!data || data.ended) return;
  const [large, small, sentences] = toldNow();
  say("#answer", ...unbroken(large), make("small", {}, small));
  say("#because", ...sentences.filter(Boolean).map((line) => make("p", {}, line)));
}

const button = (label, given, act) =>
  make("button", { type: "button", disabled: !page.leads, onclick: act, ...given }, label);
function paces() {
  const rows = [];
  const asked = { object, way: wayNow(), start: from, side };
  if (state.seen) {
    rows.push(make("a", { class: "act", href: "/follow" }, words.KEEP_IT));
    rows.push(...noteButtons(asked, state, true, paces));
  } else if (state.back) {
    rows.push(button(words.NEXT, { class: "act" }, toStar));
    rows.push(...noteButtons(asked, state, false, paces));
  } else if (state.leg !== null) {
    const last = state.leg + 1 >= data.sweep.legs.length;
    rows.push(button(words.HERE, { class: "act" }, () => go({ seen: true })));
    rows.push(button(last ? words.BACK_TO_STAR : words.NEXT_LEG, { class: "plainly" }, nextLeg));
  } else if (stepNow().kind === "look") {
    rows.push(button(words.HERE, { class: "act" }, () => go({ seen: true })));
    rows.push(button(words.NOT_THERE, { class: "plainly" }, notThere));
  } else rows.push(button(CENTRED.has(stepNow().kind) ? words.CENTRED : words.NEXT, { class: "act" }, next));
  put("#paces", ...rows);
  put(
    "#again",
    ...(state.step || state.seen
      ? [
          button(words.STEP_BACK, { class: "wordy" }, stepBack),
          button(words.AGAIN, { class: "wordy" }, () => go({ ...FRESH, way: state.way })),
        ]
      : []),
  );
}

function go(more) {
  state = { ...state, ...more, of: answered };
  draft.write("find", state);
  set({ ...state });
  show();
  const [large, small] = toldNow();
  put("#said", large + small);
  // What to do now stands on top. The button that was tapped is gone: the next one takes the focus.
  scrollTo({ top: 0 });
  $("#paces .act")?.focus({ preventScroll: true });
}
const next = () => go(stepDone(state, stepNow().kind, now().getTime(), planned()));
const stepBack = () => go(stepBefore(state));
const searched = () => wayNow() === "turns" && data.sweep !== null && data.sweep.legs.length > 0;
const notThere = () => go(searched() ? { leg: 0, swept: true, paid: now().getTime() } : { back: true });
function nextLeg() {
  const more = data.sweep.legs[state.leg].by === "hour" ? { paid: now().getTime() } : {};
  if (state.leg + 1 < data.sweep.legs.length) go({ ...more, leg: state.leg + 1 });
  else go({ ...more, leg: null, back: true });
}
const toStar = () => go({ back: false, leg: null, step: wayNow() === "aim" ? 0 : 1, centred: 0, paid: 0 });
function choseWay(way) {
  inAddress({ way });
  go({ ...FRESH, way });
}

function asked() {
  inAddress({ object, from, side });
  unshared = true;
  void busy(update(), words.LOOKING);
}
put(
  "#sides",
  ...radios(
    "side",
    [
      ["", words.BEST_SIDE],
      ["east", words.side("east")],
      ["west", words.side("west")],
    ],
    side,
    (chosen) => {
      side = chosen;
      asked();
    },
  ),
);
$("#start").value = from;
$("#start").addEventListener("change", () => {
  from = $("#start").value.trim();
  asked();
});
const choose = chooser((name) => {
  object = name;
  asked();
});
onLead((leads) => {
  for (const one of $$(".paces button")) one.disabled = !leads;
});
onSettings((shared) => {
  // What the leader has chosen, unless the address says something else.
  if (!page.leads || !location.search.includes("object=")) {
    from = shared.from ?? from;
    side = shared.side ?? side;
    object = chosenObject() || object;
  }
  if (shared.of === question() && shared.of === answered) state = { ...state, ...shared };
  $("#start").value = from;
  for (const radio of $$('input[name="side"]')) radio.checked = radio.value === side;
  if (!object) return;
  if (question() !== answered) void update();
  else if (data) show();
});
onKit(update);
onBack(update);
start(
  choose.opens(object, (first) => {
    object ||= first;
    return busy(update(), words.LOOKING);
  }),
);
onPutBack((byMs) => {
  answeredAt += byMs;
  for (const moment of ["centred", "paid"]) if (state[moment]) state[moment] += byMs;
  draft.write("find", state);
});
tick(() => {
  run();
  // While nothing is being turned yet the figures may change under the hand; later they stay.
  if (data && !state.centred && now().getTime() - answeredAt > 300000) void update();
});
