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
import {
  around,
  arrow,
  BRASS,
  circle,
  el,
  HAIR,
  INK,
  line,
  PAPER,
  point,
  sheet,
  words as written,
} from "../shared/pen.js";
import { chooser, chosenObject } from "../shared/choose.js";
import { showsAtEyepiece } from "../shared/shows.js";
import * as words from "../words/follow.js";

const W = 640,
  C = point(320, 282),
  R = 232,
  K = point(320, 632),
  KR = 74;
// Side and nudge belong to one object (`of`), and a nudge to one night.
const NUDGE_COUNTS_MS = 12 * 3600000;
let state = { eyepiece: "", side: "", nudged: 0, of: "", ...(draft.read("follow") ?? {}) };
let data = null,
  answeredAt = 0,
  object = "",
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
    if (answered !== before) {
      due = false;
      put("#said");
    }
    choose.fail("");
    fine();
    answeredAt = now().getTime();
    show();
  } catch (error) {
    if (error.status === 422) choose.fail(error.message);
    else failed(error);
  }
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
  const e = glass(),
    s = hang(),
    svg = sheet(W, 724, words.SHEET);
  const keepPart = data.keep_fraction,
    keep = R * keepPart;
  svg.append(
    circle(...C, R, { "stroke-width": 2.6 }),
    circle(...C, keep, { stroke: HAIR, "stroke-dasharray": "7 6", "stroke-width": 1.6 }),
  );
  svg.append(line(C[0] - 9, C[1], C[0] + 9, C[1], INK, 1.5), line(C[0], C[1] - 9, C[0], C[1] + 9, INK, 1.5));
  const tip = around(...C, R + 20, s.view_drift_clock_deg),
    from = around(...C, R - 26, s.view_drift_clock_deg);
  svg.append(arrow(...from, ...tip, INK, 2, 16));
  const opposite = around(...C, keep + 20, s.view_drift_clock_deg + 180);
  svg.append(
    written(C[0], opposite[1] > C[1] ? C[1] + keep + 26 : C[1] - keep - 12, words.BEFORE_RING, 17, {
      fill: "var(--faint)",
      "font-style": "italic",
    }),
  );
  const object_ = el(
    "g",
    {},
    el("circle", { r: 11, fill: PAPER, stroke: INK, "stroke-width": 2 }),
    el("circle", { r: 5, fill: INK }),
  );
  const gone = written(...C, "", 22, { "font-weight": 600, dy: R - 16 });
  svg.append(object_, gone, written(C[0] - R - 4, 24, words.field(e), 19, { "text-anchor": "start" }));
  svg.append(written(C[0] + R + 4, 24, words.drifts(s.view_drift_clock_deg), 19, { "text-anchor": "end" }));
  // The knob: knurled, the turn in brass.
  const knurl = [];
  for (let a = 0; a < 360; a += 9) {
    const [x1, y1] = around(...K, KR, a),
      [x2, y2] = around(...K, KR + 8, a);
    knurl.push(`M${x1.toFixed(1)} ${y1.toFixed(1)}L${x2.toFixed(1)} ${y2.toFixed(1)}`);
  }
  const angle = e.knob_turn_deg,
    has = data.seconds_per_knob_turn_object && angle !== null && !data.motor.length;
  const turn = el("path", { fill: "none", stroke: BRASS, "stroke-width": 6 });
  if (has) {
    const sense = data.knob_clockwise ? 1 : -1,
      whole = Math.min(angle, 330),
      r = KR + 24,
      a = around(...K, r, 0),
      b = around(...K, r, sense * whole),
      t = around(...K, r, sense * (whole + 14)),
      i = around(...K, r - 13, sense * whole),
      o = around(...K, r + 13, sense * whole);
    svg.append(
      circle(...K, KR, { "stroke-width": 2 }),
      el("path", { d: knurl.join(""), stroke: INK, "stroke-width": 2 }),
    );
    turn.setAttribute(
      "d",
      `M${a[0].toFixed(1)} ${a[1].toFixed(1)}A${r} ${r} 0 ${whole > 180 ? 1 : 0} ${sense > 0 ? 1 : 0} ${b[0].toFixed(1)} ${b[1].toFixed(1)}`,
    );
    svg.append(
      turn,
      el("path", { d: `M${t}L${i}L${o}Z`, fill: BRASS }),
      written(K[0], K[1] + 4, words.knobTurn(angle), 34, {
        "font-weight": 600,
      }),
      written(K[0], K[1] + 30, words.HOUR_KNOB, 18),
    );
    // A line across stands for the ten past the hand can judge: whole, half and quarter turn.
    svg.append(
      written(K[0] + KR + 52, K[1] + 8, words.sense(data.knob_clockwise), 22, {
        "text-anchor": "start",
      }),
    );
  } else svg.append(written(K[0], K[1], data.motor.length ? words.MOTOR_FOLLOWS : words.PUSH_WEST, 24));
  put("#drawing", svg).hidden = false;
  pen = { object: object_, gone, turn, keep };
}
function changed() {
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
  void busy(update(), words.LOOKING);
});
onSettings((shared) => {
  state = { ...state, ...shared };
  const wanted = chosenObject();
  if (wanted && wanted !== object) {
    object = wanted;
    void update();
  } else if (data) show();
});
onKit(update);
onBack(update);
start();
choose
  .begin(object)
  .then((first) => {
    object ||= first;
    return busy(update(), words.LOOKING);
  })
  .catch(failed);
tick(() => {
  if (data?.sides) {
    run();
    if (now().getTime() - answeredAt > 600000) void update();
  }
}, 1000);
