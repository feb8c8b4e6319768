// Where the pole star goes in this polar scope, as the clock runs; and what the bolts must do.

import {
  $,
  $$,
  asking,
  busy,
  draft,
  list,
  make,
  now,
  onBack,
  onKit,
  onLead,
  onSettings,
  page,
  put,
  say,
  set,
  start,
  tick,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { onPutBack } from "../shared/put_back.js";
import { clockHour, onRing } from "../shared/clock.js";
import { degrees, dialHour, dialPlace } from "../shared/words.js";
import { fieldsOf } from "../shared/drawing.js";
import { ruler } from "../shared/scale.js";
import * as told from "../words/pole.js";
import { build, move } from "./pole_view.js";

let state = { scale: null, azimuth: null, whole: "near", through: null, ...(draft.read("pole") ?? {}) };
let data = null,
  asked = 0,
  rulers = null;

const fetchAnswer = latest(
  (signal) =>
    ask(
      "pole",
      { at: now().toISOString(), scale: state.scale, azimuth: state.azimuth, through: state.through },
      signal,
    ),
  60,
);
const update = () =>
  asking(fetchAnswer, (found) => {
    data = found;
    asked = Date.parse(data.at);
    show();
  });

const since = () => (now().getTime() - asked) / 1000;
function place() {
  const [right, up] = onRing(data.picture.ring, since());
  return { right, up, away: Math.hypot(right, up), hour: clockHour(right, up) };
}
const tube = () => data.through_tube.looked_through;
const kindOf = () => (data.without_view.needed ? "blind" : tube() ? "tube" : data.bore ? "hollow" : "scope");

function run() {
  if (!data) return;
  const star = place();
  if (kindOf() === "blind") {
    say("#answer", degrees(data.scale.setting_deg), make("small", {}, told.ON_SCALE));
    say("#because", told.withoutView(data, star));
  } else {
    say(
      "#answer",
      make("small", {}, told.starAt(data.star)),
      dialPlace(star.hour),
      make("small", {}, told.ON_THE_DIAL),
    );
    say("#because", tube() ? told.aboutPoint(data, star) : told.inView(data, star));
  }
  move(star, since());
}

function show() {
  if (!rulers) buildRulers();
  rulers.scale.range({ mark: data.scale.setting_deg });
  put(
    "#moves",
    ...(data.moves
      ? [
          make("h2", {}, data.words.moves || told.BOLTS),
          make(
            "ol",
            { class: "rows" },
            ...data.words.steps.map((s) => make("li", {}, make("strong", {}, s.turns), ` ${s.step}`)),
          ),
        ]
      : []),
  );
  $("#clear").hidden = state.scale === null && state.azimuth === null;
  list("#tonight", told.tonight(data, page.zone));
  list(
    "#hours",
    data.picture.quarters.map((q) => [
      make("strong", {}, dialHour(q.clock_hour)),
      make("span", {}, told.atTime(q.at, page.zone)),
    ]),
  );
  list("#blind", data.words.without_view);
  showTube();
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#assumed", data.assumed);
  build(data, state.whole);
  run();
}

// The way through the tube, and the choice of what is looked through where there is one.
function showTube() {
  const way = data.through_tube;
  $("#through").hidden = !(way.possible && data.has_own);
  for (const radio of $$('input[name="through"]')) radio.checked = (radio.value === "tube") === tube();
  put("#through-tube", told.throughTube(data));
  $("#tube").hidden = !way.possible;
  list("#tube-steps", data.words.through_tube);
  put("#swing", ...fieldsOf(data.swing));
}

function buildRulers() {
  const at = data.scale.setting_deg,
    low = Math.floor(at - 6),
    high = Math.ceil(at + 6);
  rulers = {
    scale: ruler({
      name: told.SCALE,
      min: low,
      max: high,
      value: state.scale ?? at,
      step: 0.1,
      ticks: [0.5, 1, 2],
      label: (v) => `${v}°`,
      mark: at,
      say: (v) => told.scaleValue(v, state.scale !== null),
      oninput: (v) => {
        state.scale = v;
        rulers.scale.set(v);
        changed(false);
      },
      onset: () => changed(true),
    }),
    azimuth: ruler({
      name: told.AZIMUTH,
      min: -180,
      max: 180,
      value: state.azimuth ?? 0,
      step: 5,
      ticks: [10, 30, 60],
      label: told.azimuthMark,
      mark: 0,
      // Whoever faces the south pole has east on the left.
      mirrored: data.hemisphere === "south",
      say: (v) => told.azimuthValue(v, state.azimuth !== null),
      oninput: (v) => {
        state.azimuth = v;
        rulers.azimuth.set(v);
        changed(false);
      },
      onset: () => changed(true),
    }),
  };
  put("#rulers", rulers.scale.element, rulers.azimuth.element);
  onLead((leads) => {
    for (const r of Object.values(rulers)) r.disable(!leads);
  });
}

function changed(done) {
  draft.write("pole", state);
  if (done) set(state);
  void update();
}
for (const radio of $$('input[name="whole"]'))
  radio.addEventListener("change", () => {
    state.whole = radio.value;
    draft.write("pole", state);
    set({ whole: state.whole });
    build(data, state.whole);
    run();
  });
for (const radio of $$('input[name="through"]'))
  radio.addEventListener("change", () => {
    state.through = radio.value;
    draft.write("pole", state);
    set({ through: state.through });
    void update();
  });
$("#clear").addEventListener("click", () => {
  state = { ...state, scale: null, azimuth: null };
  rulers.scale.set(data.scale.setting_deg);
  rulers.azimuth.set(0);
  changed(true);
});
onSettings((shared) => {
  state = { ...state, scale: null, azimuth: null, through: null, ...shared };
  for (const radio of $$('input[name="whole"]')) radio.checked = radio.value === state.whole;
  if (rulers) {
    rulers.scale.set(state.scale ?? data.scale.setting_deg);
    rulers.azimuth.set(state.azimuth ?? 0);
  }
  void update();
});
onKit(() => {
  rulers = null;
  void update();
});
onBack(update);
start(busy(update(), told.FINDING));
onPutBack(() => update());
tick(() => {
  if (data && now().getTime() - asked > 1800000) void update();
  else run();
});
