// Where the pole star goes in this polar scope, as the clock runs; and what the bolts must do.

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
  say,
  set,
  start,
  tick,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { around, BRASS, circle, el, HAIR, INK, line, PAPER, path, point, sheet, words } from "../shared/pen.js";
import { clockHour, onRing, turned } from "../shared/clock.js";
import { clock, degrees, faceWords } from "../shared/words.js";
import { ruler } from "../shared/scale.js";
import * as told from "../words/pole.js";

const W = 640,
  C = point(320, 330),
  R = 252;
let state = { scale: null, azimuth: null, whole: "near", ...(draft.read("pole") ?? {}) };
let data = null,
  asked = 0,
  pen = null,
  rulers = null;

const fetchAnswer = latest(
  (signal) => ask("pole", { at: now().toISOString(), scale: state.scale, azimuth: state.azimuth }, signal),
  60,
);
async function update() {
  try {
    data = await fetchAnswer();
    fine();
    asked = Date.parse(data.at);
    show();
  } catch (error) {
    failed(error);
  }
}

function place() {
  const [right, up] = onRing(data.picture.ring, (now().getTime() - asked) / 1000);
  return { right, up, away: Math.hypot(right, up), hour: clockHour(right, up) };
}
const kindOf = () => (data.without_view.needed ? "blind" : data.bore ? "hollow" : "scope");

function run() {
  if (!data) return;
  const star = place();
  if (kindOf() === "blind") {
    say("#answer", degrees(data.scale.setting_deg), make("small", {}, told.ON_SCALE));
    say("#because", told.withoutView(data, star));
  } else {
    say("#answer", make("small", {}, told.starAt(data.star)), faceWords(star.hour));
    say("#because", told.inView(data, star));
  }
  move(star);
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
      make("strong", {}, faceWords(q.clock_hour)),
      make("span", {}, told.atTime(q.at, page.zone)),
    ]),
  );
  list("#blind", data.words.without_view);
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#assumed", data.assumed);
  build();
  run();
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

function build() {
  const view = data.picture,
    field = state.whole === "field",
    half = field ? view.field_deg * 30 : Math.max(...view.ring.map((p) => Math.hypot(...p))) / 0.66,
    k = R / half;
  const spot = (p) => point(C[0] + p[0] * k, C[1] - p[1] * k);
  const svg = sheet(W, 660, told.sheet(data.star));
  svg.append(circle(...C, R, { "stroke-width": 2.4 }));
  const d = ["", ""];
  for (let i = 0; i < 72; i += 1) {
    const whole = i % 6 === 0,
      [a, b] = around(...C, R, i * 5),
      [x, y] = around(...C, R + (whole ? 17 : i % 3 === 0 ? 12 : 7), i * 5);
    d[whole ? 1 : 0] += `M${a.toFixed(1)} ${b.toFixed(1)}L${x.toFixed(1)} ${y.toFixed(1)}`;
    if (whole) {
      const [lx, ly] = around(...C, R + 40, i * 5);
      svg.append(words(lx, ly + 9, i / 6 || 12, 26, { "font-weight": 600 }));
    }
  }
  svg.append(
    el("path", { d: d[0], stroke: INK, "stroke-width": 1 }),
    el("path", { d: d[1], stroke: INK, "stroke-width": 3 }),
  );
  const sky = el("g", {}),
    inside = (p) => Math.hypot(...p) < half * 0.985;
  for (const [a, b] of view.figure) if (inside(a) && inside(b)) sky.append(line(...spot(a), ...spot(b), HAIR, 1.6));
  const stars = view.stars.filter((s) => inside([s.right_arcmin, s.up_arcmin]));
  for (const s of stars)
    sky.append(
      el("circle", {
        cx: spot([s.right_arcmin, s.up_arcmin])[0],
        cy: spot([s.right_arcmin, s.up_arcmin])[1],
        r: Math.max(6.4 - 0.66 * s.magnitude_v, 1.2),
        fill: INK,
      }),
    );
  svg.append(sky, path(view.ring.map(spot), { stroke: INK, "stroke-width": 1.6 }));
  if (view.engraved_ring_arcmin && view.engraved_ring_arcmin < half)
    svg.append(circle(...C, view.engraved_ring_arcmin * k, { "stroke-dasharray": "3 6" }));
  const labels = stars
    .filter((s) => s.name)
    .map((s) => {
      const text = words(0, 0, s.name, 17);
      svg.append(text);
      return { s, text };
    });
  svg.append(line(C[0] - 16, C[1], C[0] + 16, C[1], INK, 2), line(C[0], C[1] - 16, C[0], C[1] + 16, INK, 2));
  const guides = view.guides.map((g) => {
    const text = words(0, 0, "", 18, {
      "font-style": "italic",
      "paint-order": "stroke",
      stroke: PAPER,
      "stroke-width": 5,
    });
    svg.append(text);
    return { g, text };
  });
  const hours = el("g", {}),
    hand = line(...C, ...C, INK, 1.4, { "stroke-dasharray": "2 6" });
  const now_ = el(
    "g",
    {},
    el("circle", { r: field ? 15 : 21, fill: PAPER, stroke: BRASS, "stroke-width": 4 }),
    el("circle", { r: field ? 7 : 11, fill: INK }),
  );
  svg.append(hand, hours, now_);
  put("#drawing", svg);
  pen = { spot, sky, now: now_, hand, hours, labels, guides, field };
}

// The sky turns about the middle; what was drawn at the answer's moment turns with it.
function move(star) {
  if (!pen) return;
  const since = (now().getTime() - asked) / 3600000,
    turn = data.picture.turn_deg_per_h * since;
  pen.sky.setAttribute("transform", `rotate(${turn.toFixed(3)} ${C[0]} ${C[1]})`);
  for (const { s, text } of pen.labels) {
    const p = pen.spot(turned(s.right_arcmin, s.up_arcmin, turn)),
      inward = p[0] > C[0];
    text.setAttribute("x", (p[0] + (inward ? -11 : 11)).toFixed(1));
    text.setAttribute("y", (p[1] + 5).toFixed(1));
    text.setAttribute("text-anchor", inward ? "end" : "start");
  }
  for (const { g, text } of pen.guides) {
    const hour = (g.clock_hour + turn / 30) % 12,
      p = around(...C, R - 30, hour * 30),
      below = hour > 3 && hour < 9;
    text.textContent = told.onRim(g);
    text.setAttribute(
      "transform",
      `rotate(${(hour * 30 + (below ? 180 : 0)).toFixed(1)} ${p[0].toFixed(1)} ${p[1].toFixed(1)})`,
    );
    text.setAttribute("x", p[0].toFixed(1));
    text.setAttribute("y", (p[1] + 6).toFixed(1));
  }
  const p = pen.spot([star.right, star.up]);
  pen.now.setAttribute("transform", `translate(${p[0].toFixed(2)} ${p[1].toFixed(2)})`);
  pen.hand.setAttribute("x2", p[0].toFixed(1));
  pen.hand.setAttribute("y2", p[1].toFixed(1));
  const marks = [];
  if (!pen.field)
    for (const h of [1, 2]) {
      const q = onRing(data.picture.ring, (now().getTime() - asked) / 1000 + h * 3600),
        [x, y] = pen.spot(q),
        out = Math.hypot(x - C[0], y - C[1]) || 1,
        l = 1 + 30 / out;
      marks.push(
        circle(x, y, 7, { fill: PAPER, "stroke-width": 2 }),
        words(
          C[0] + (x - C[0]) * l,
          C[1] + (y - C[1]) * l + 6,
          clock(new Date(now().getTime() + h * 3600000), page.zone),
          18,
        ),
      );
    }
  pen.hours.replaceChildren(...marks);
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
    build();
    run();
  });
$("#clear").addEventListener("click", () => {
  state = { ...state, scale: null, azimuth: null };
  rulers.scale.set(data.scale.setting_deg);
  rulers.azimuth.set(0);
  changed(true);
});
onSettings((shared) => {
  state = { ...state, scale: null, azimuth: null, ...shared };
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
start();
busy(update(), told.FINDING);
tick(() => {
  if (data && now().getTime() - asked > 1800000) void update();
  else run();
});
