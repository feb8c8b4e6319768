// Which side, how far, where is the eyepiece: both sides in space, with the clock or ahead of it.

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
  onLight,
  onSettings,
  page,
  put,
  say,
  set,
  start,
  still,
  tick,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { walkAround } from "../shared/look.js";
import { createScene } from "../shared/scene.js";
import { addressChooses, chooser, inAddress } from "../shared/choose.js";
import { showsAtEyepiece } from "../shared/shows.js";
import { ruler } from "../shared/scale.js";
import { wrapH } from "../shared/clock.js";
import { clock } from "../shared/words.js";
import * as words from "../words/point.js";
import { flat } from "./point_flat.js";

const SIDES = ["east", "west"],
  AHEAD_MIN = 720;
// The object and the side stand in the address.
const address = new URLSearchParams(location.search);
let rig = null,
  data = null,
  asked = 0,
  ahead = 0,
  which = "",
  running = 0,
  scenes = {},
  object = address.get("object") ?? "",
  asKit = false;
const moment = () => now().getTime() + ahead * 60000;

const fetchAnswer = latest(
  (signal) => ask("point", { object, at: new Date(moment()).toISOString(), as_kit: asKit }, signal),
  90,
);
async function update() {
  if (!object) return;
  try {
    const found = await fetchAnswer();
    choose.known();
    fine();
    asked = Date.parse(found.at);
    const given = data ? "" : address.get("side"); // of the address, for the first answer
    if (found.sides?.some((s) => s.side === given)) which = given;
    data = found;
    if (!which || !data.sides) which = data.better_side ?? which ?? "east";
    show();
  } catch (error) {
    if (error.status === 422) choose.fail(error.message);
    else failed(error);
  }
}
const side = (name) => data?.sides?.find((s) => s.side === name);

// Between answers the hour angle grows evenly: pose and room follow from it.
function live(s) {
  const gone = (moment() - asked) / 1000,
    growth = data.hour_angle_growth_h_per_s;
  const end = wrapH(s.tube_end_h + gone * growth),
    room = s.usable ? s.room_s - gone : 0;
  return { end, swing: s.swing_deg, room, out: s.usable && !s.endless && room <= 0 };
}

function show() {
  choose.show(object);
  if (!data.sides) {
    const [large, small] = words.noSideNow(data.object);
    say("#answer", large, make("small", {}, small));
    say("#because", data.words);
    $("#sides").hidden = true;
    say("#beware");
    put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
    showsAtEyepiece(data);
    return;
  }
  $("#sides").hidden = false;
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  showsAtEyepiece(data);
  list("#assumed", words.assumed(data));
  // Nothing was measured: there is nothing to leave out.
  $("#as-kit").hidden = !asKit && !data.circles.state;
  for (const s of data.sides) {
    const figure = $(`[data-side="${s.side}"]`),
      figures = $(`[data-facts="${s.side}"]`),
      better = s.side === data.better_side;
    put($("h2", figure), words.side(s.side), better ? words.BETTER : "");
    figure.classList.toggle("better", better);
    const rows = words.figures(s, data.units, data.circles);
    put(
      figures,
      ...rows.flatMap(([k, v]) => [make("dt", {}, k), make("dd", {}, v)]),
      // The better side's first one stands at the head of the page.
      ...(s.usable ? s.warnings.slice(Number(better)) : []).flatMap((w) => [
        make("dt", { class: "problem" }, words.BEWARE),
        make("dd", {}, words.warning(w)),
      ]),
    );
    const growth = data.hour_angle_growth_h_per_s;
    scenes[s.side]?.setGhost(
      s.usable && !s.endless && s.room_s > 60
        ? { tubeEndH: wrapH(s.tube_end_h + s.room_s * growth), swing: s.swing_deg }
        : null,
    );
  }
  reflectWhich();
  move();
}
// Runs every second, and at every step of running ahead.
function move() {
  if (!data?.sides) return;
  const best = side(data.better_side);
  if (best) {
    const l = live(best);
    say("#answer", make("small", {}, words.tubeOn(data.object)), data.better_side);
    say(
      "#because",
      best.endless
        ? words.ALL_NIGHT
        : l.out
          ? words.usedUp(best.ends)
          : words.roomUntil(l.room, new Date(moment() + l.room * 1000), page.zone, best.ends),
      data.reason,
    );
    say("#beware", best.warnings.length ? words.firstWarning(best.warnings[0]) : "");
  } else {
    const opens = data.sides.filter((s) => s.opens_in_s !== null).sort((a, b) => a.opens_in_s - b.opens_in_s)[0];
    say("#answer", make("small", {}, words.of(data.object)), words.NOT_NOW);
    say(
      "#because",
      data.reason,
      opens ? words.opens(opens.side, new Date(asked + opens.opens_in_s * 1000), page.zone) : "",
    );
    say("#beware");
  }
  for (const s of data.sides) {
    const figure = $(`[data-side="${s.side}"]`),
      l = live(s);
    say(
      $(".room", figure),
      words.room(s, l, new Date(asked + s.opens_in_s * 1000), page.zone, data.hour_angle_growth_h_per_s),
    );
    const touching = l.out ? s.end_parts : s.clearance_mm < data.margin_mm ? s.nearest_parts : [];
    scenes[s.side]?.setAngles(l.end, l.swing);
    scenes[s.side]?.setTouching(touching);
    if (!scenes[s.side]) void flat(s.side, l, touching);
  }
}

async function build() {
  rig = await ask("rig");
  for (const name of SIDES) {
    const old = $(`[data-side="${name}"] canvas`),
      canvas = old.cloneNode(false);
    old.replaceWith(canvas);
    canvas.hidden = false;
    $(`[data-side="${name}"] .flat`).hidden = true;
    scenes[name] = createScene(canvas, rig);
    if (!scenes[name]) continue;
    scenes[name].onLost(() => {
      scenes[name] = null;
      move();
    });
    walkAround(canvas, () => Object.values(scenes));
  }
  onLight((name) => {
    for (const scene of Object.values(scenes)) scene?.setTheme(name);
  });
}

function setAhead(minutes, ask_ = true) {
  ahead = Math.min(AHEAD_MIN, Math.max(0, minutes));
  time.set(ahead);
  $("#back").hidden = ahead === 0;
  move();
  if (ask_) void update();
}
const time = ruler({
  name: words.TIME_AHEAD,
  min: 0,
  max: AHEAD_MIN,
  value: 0,
  step: 1,
  ticks: [15, 60, 120],
  label: (v) => (v ? words.ahead(v / 60) : words.NOW),
  say: (v) => (v ? clock(new Date(now().getTime() + v * 60000), page.zone) : words.nowAt(now(), page.zone)),
  oninput: (v) => setAhead(v),
  onset: (v) => set({ ahead: Math.round(v) }),
});
put("#ahead", time.element);
$("#run").addEventListener("click", () => {
  if (running) {
    clearInterval(running);
    running = 0;
    put("#run", words.RUN);
    set({ ahead: Math.round(ahead) });
    void update();
    return;
  }
  put("#run", words.STOP);
  let count = 0;
  // A minute at each step; in big quiet steps where motion is unwelcome.
  running = setInterval(
    () => {
      count += 1;
      if (ahead >= AHEAD_MIN) {
        $("#run").click();
        return;
      }
      setAhead(ahead + (still.matches ? 10 : 1), still.matches || count % 8 === 0);
    },
    still.matches ? 1000 : 90,
  );
});
$("#back").addEventListener("click", () => {
  if (running) $("#run").click();
  setAhead(0);
  set({ ahead: 0 });
});
function reflectWhich() {
  for (const radio of $$('input[name="which"]')) radio.checked = radio.value === which;
  for (const part of $$(".side")) part.classList.toggle("hid", (part.dataset.side ?? part.dataset.facts) !== which);
}
for (const radio of $$('input[name="which"]'))
  radio.addEventListener("change", () => {
    which = radio.value;
    inAddress({ object, side: which });
    reflectWhich();
    move();
  });

put("#as-kit span", words.AS_KIT);
$("#as-kit input").addEventListener("change", (event) => {
  asKit = event.target.checked;
  void update();
});

const choose = chooser((name) => {
  object = name;
  which = "";
  inAddress({ object, side: "" });
  void busy(update(), words.LOOKING);
});
onLead((leads) => time.disable(!leads));
onSettings((shared) => {
  if (typeof shared.ahead === "number" && shared.ahead !== Math.round(ahead)) setAhead(shared.ahead, false);
  const wanted = addressChooses() ? object : (shared.object ?? object);
  if (wanted && (wanted !== object || shared.ahead !== undefined)) {
    if (wanted !== object) which = "";
    object = wanted;
    void update();
  }
  choose.show(object);
});
onKit(() => build().then(update).catch(failed));
onBack(update);
start(
  busy(Promise.all([build(), choose.begin(object)]), words.BUILDING)
    .then(async ([, first]) => {
      object ||= first;
      await update();
    })
    .catch(failed),
);
tick(() => {
  if (!running) {
    move();
    if (!ahead) time.set(0);
    if (data && Math.abs(moment() - asked) > 300000) void update();
  }
});
