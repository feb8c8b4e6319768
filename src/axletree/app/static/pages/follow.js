// When is the next nudge, which knob, which way, how far; and how long is there room?

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
  onSettings,
  page,
  put,
  radios,
  say,
  set,
  start,
  tick,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { onPutBack } from "../shared/put_back.js";
import { around } from "../shared/pen.js";
import { addressChooses, chooser, chosenObject, inAddress } from "../shared/choose.js";
import { showsAtEyepiece } from "../shared/shows.js";
import * as words from "../words/follow.js";
import { C, drawing, R } from "./follow_drawing.js";

// Side and nudge belong to one object (`of`), and a nudge to one night.
const NUDGE_COUNTS_MS = 12 * 3600000;
// The object, the eyepiece and the side stand in the address.
const address = new URLSearchParams(location.search);
let state = { eyepiece: "", side: "", nudged: 0, of: "", ...(draft.read("follow") ?? {}) };
let data = null,
  answeredAt = 0,
  object = address.get("object") ?? "",
  answered = "",
  pen = null,
  due = false,
  asKit = false;

const fetchAnswer = latest((signal) => {
  const name = object;
  return ask("follow", { object: name, at: now().toISOString(), as_kit: asKit }, signal).then((found) => [name, found]);
}, 60);
async function update() {
  if (!object) return;
  const before = answered;
  try {
    [answered, data] = await fetchAnswer();
    if (!before) addressed();
    if (answered !== before) {
      due = false;
      put("#said");
    }
    choose.known();
    fine();
    answeredAt = now().getTime();
    show();
  } catch (error) {
    if (error.status === 422) choose.fail(error.message);
    else failed(error);
  }
}
function addressed() {
  const eyepiece = address.get("eyepiece"),
    side = address.get("side");
  if (eyepiece) state.eyepiece = eyepiece;
  if (side) state = { ...state, ...(own() ? {} : { nudged: 0, of: answered }), side };
}
const glass = () => data.eyepieces.find((e) => e.eyepiece === state.eyepiece) ?? data.eyepieces[0];
const own = () => state.of === answered;
const hang = () => data.sides.find((s) => s.side === ((own() && state.side) || data.better_side)) ?? data.sides[0];
function countedFrom() {
  const age = now().getTime() - state.nudged;
  return own() && age >= 0 && age < NUDGE_COUNTS_MS ? state.nudged : answeredAt;
}
const every = (e) => (data.motor.length ? e.motor_nudge_s : e.nudge_s);

function show() {
  choose.show(object);
  // Nothing was measured: there is nothing to leave out.
  $("#as-kit").hidden = !asKit && !data.state;
  put("#cautions", ...(data.cautions ?? []).map((c) => make("p", { class: "caution" }, c)));
  showsAtEyepiece(data);
  if (!data.sides) {
    const [large, small] = words.notNow(data.object);
    say("#answer", large, make("small", {}, small));
    say("#because", data.words);
    put("#drawing").hidden = true;
    $("#nudged").hidden = true;
    pen = null;
    return;
  }
  put(
    "#eyepieces",
    ...radios(
      "eyepiece",
      data.eyepieces.map((e) => [e.eyepiece, words.eyepiece(e)]),
      glass().eyepiece,
      (eyepiece) => {
        state.eyepiece = eyepiece;
        changed();
      },
    ),
  );
  for (const radio of $$('input[name="side"]')) radio.checked = radio.value === hang().side;
  list("#rows", words.rows(data, glass(), hang().side));
  build();
  run();
}

function run() {
  if (!data?.sides) return;
  const e = glass(),
    s = hang(),
    period = every(e),
    since = (now().getTime() - countedFrom()) / 1000;
  const driven = data.motor.length > 0,
    room = s.usable && !s.endless ? s.room_s - (now().getTime() - answeredAt) / 1000 : s.endless ? Infinity : 0;
  // A motor that is right for hours needs no countdown.
  const left = period === null || (driven && period > Math.min(room, 7200)) ? Infinity : period - since;
  const how = words.nudge(data, e),
    isDue = left <= 0,
    [what, small] = words.countdownTo(left);
  $("#nudged").hidden = left === Infinity;
  say("#answer", what, make("small", {}, small));
  say("#because", nudgeWords(left, how, period), roomWords(s, room));
  if (isDue && !due) put("#said", words.turnNow(how));
  due = isDue;
  if (pen) {
    // From the middle to the edge takes half the time that a whole crossing takes.
    const across = data.motor.length
      ? period === null
        ? 0
        : (since / period) * (pen.keep / R)
      : since / ((e.drift_time_s ?? Infinity) / 2);
    const out = Math.min(Math.max(across, 0), 1.12),
      p = around(...C, out * R, s.view_drift_clock_deg);
    pen.object.setAttribute("transform", `translate(${p[0].toFixed(2)} ${p[1].toFixed(2)})`);
    pen.object.setAttribute("opacity", out > 1 ? 0.35 : 1);
    pen.gone.textContent = out > 1 ? words.GONE : "";
    pen.turn.setAttribute("stroke-width", isDue ? 11 : 6);
  }
}

function nudgeWords(left, how, period) {
  if (left !== Infinity) return words.afterThat(how);
  return data.motor.length ? words.motorKeeps(data.motor[0].rate, period) : words.STAYS;
}
function roomWords(side, room) {
  if (!side.usable) return words.noRoom(side);
  if (room === Infinity) return words.ALL_NIGHT;
  if (room <= 0) return make("b", {}, words.usedUp(side));
  return words.roomLeft(room, new Date(now().getTime() + room * 1000), page.zone, side);
}

function build() {
  const drawn = drawing(data, glass(), hang());
  pen = drawn.pen;
  put("#drawing", drawn.svg).hidden = false;
}
function changed() {
  inAddress({ object, eyepiece: state.eyepiece, side: own() ? state.side : "" });
  draft.write("follow", state);
  set({ ...state });
  show();
}
for (const radio of $$('input[name="side"]'))
  radio.addEventListener("change", () => {
    take({ side: radio.value });
  });
// What was set for another object is not this one's.
function take(set_) {
  state = { ...state, ...(own() ? {} : { side: "", nudged: 0, of: answered }), ...set_ };
  changed();
}
$("#nudged").addEventListener("click", () => {
  due = false;
  put("#said");
  take({ nudged: now().getTime() });
});
put("#as-kit span", words.AS_KIT);
$("#as-kit input").addEventListener("change", (event) => {
  asKit = event.target.checked;
  void update();
});

const choose = chooser((name) => {
  object = name;
  inAddress({ object, side: "" });
  void busy(update(), words.LOOKING);
});
onSettings((shared) => {
  const own_ = addressChooses();
  if (!own_) state = { ...state, ...shared };
  const wanted = own_ ? object : chosenObject();
  if (wanted && wanted !== object) {
    object = wanted;
    void update();
  } else if (data) show();
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
  if (state.nudged) state.nudged += byMs;
  draft.write("follow", state);
  void update();
});
tick(() => {
  if (data?.sides) {
    run();
    if (now().getTime() - answeredAt > 600000) void update();
  }
}, 1000);
