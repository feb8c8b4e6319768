// Which way is the pole: one line on the ground that can be marked, and how far the pole is from it.

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
  say,
  set,
  start,
  tick,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { around, arrow, BRASS, circle, el, FAINT, INK, line, PAPER, point, ring, sheet, words } from "../shared/pen.js";
import { mod, wrap180 } from "../shared/clock.js";
import { degrees } from "../shared/words.js";
import * as tell from "../words/north.js";

const W = 640,
  C = point(320, 320),
  R = 232;
let state = { method: "", up: "pole", landmark: "", landmark_name: "", ...(draft.read("north") ?? {}) };
let data = null,
  got = 0,
  pen = null;

const fetchAnswer = latest(
  (signal) =>
    ask("north", { at: now().toISOString(), landmark: state.landmark, landmark_name: state.landmark_name }, signal),
  60,
);
async function update() {
  try {
    data = await fetchAnswer();
    got = now().getTime();
    fine();
    $("#landmark-problem").hidden = true;
    $("#landmark").removeAttribute("aria-invalid");
    show();
  } catch (error) {
    if (state.landmark && error.status === 422) {
      put("#landmark-problem", error.message).hidden = false;
      $("#landmark").setAttribute("aria-invalid", "true");
      if (!data) {
        const kept = state.landmark;
        state.landmark = "";
        await update();
        state.landmark = kept;
      }
    } else failed(error);
  }
}
const open = () => data.methods.filter((m) => m.usable && m.works_now);
const chosen = () => open().find((m) => m.key === state.method) ?? open()[0] ?? null;

// The line drifts with its body; between two answers it goes on at the rate that came with it.
function lineNow(m) {
  const moved = m.rate_deg_per_min === null ? 0 : (m.rate_deg_per_min * (now().getTime() - got)) / 60000;
  return { line: mod(m.line_deg + moved, 360), turn: wrap180(m.turn_to_pole_deg - moved) };
}
const when = (iso) => tell.when(iso, now(), page.zone);

function show() {
  put(
    "#methods",
    ...open().map((m) =>
      make(
        "label",
        { class: "method" },
        make("input", {
          type: "radio",
          name: "method",
          checked: m === chosen(),
          onchange: () => {
            state.method = m.key;
            changed();
          },
        }),
        make("strong", {}, tell.plusMinus(m.sigma_deg)),
        make("span", {}, m.name, m.until ? make("span", { class: "faint" }, tell.until(m.until, page.zone)) : ""),
      ),
    ),
  );
  const later = data.methods
    .filter((m) => m.usable && !m.works_now)
    .sort((one, other) => Date.parse(one.at) - Date.parse(other.at));
  list(
    "#later",
    later.map((m) => [make("strong", {}, when(m.at)), tell.later(m), make("span", { class: "faint" }, m.how)]),
  );
  list("#closed", [
    ...data.not_open.map((c) => tell.closed(c, c.opens && when(c.opens))),
    ...data.methods.filter((m) => !m.usable).map(tell.notTrusted),
  ]);
  list("#assumed", tell.assumed(data));
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  pen = null;
  run();
}

function run() {
  if (!data) return;
  const m = chosen();
  if (!m) {
    const first = data.methods.find((w) => w.usable);
    say("#answer", first ? tell.nothingNow(first.name, when(first.at)) : tell.NOTHING);
    say("#because", first ? first.how : tell.WITHOUT);
    draw(null);
    return;
  }
  const { line: along, turn } = lineNow(m);
  if (m.method === "compass") {
    say("#answer", `${degrees(data.compass_bearing_deg)} `, make("small", {}, tell.ON_THE_COMPASS));
    say("#because", tell.byCompass(data.pole, m.sigma_deg));
  } else {
    const [figure, small] = tell.turned(turn, m.by_shadow, data.pole);
    say("#answer", figure, make("small", {}, small));
    say("#because", tell.howTo(m, data.pole));
  }
  draw(m, along, turn);
}

function build() {
  const svg = sheet(W, W, tell.SHEET);
  const rose = el("g", {});
  rose.append(ring(...C, R, { step: 2, middle: 10, long: 30, label: () => null }));
  const names = tell.POINTS;
  const labels = [];
  for (let a = 0; a < 360; a += 30) {
    const text = words(0, 0, names[a] ?? a, names[a] ? 22 : 16, {
      "font-weight": names[a] ? 600 : 400,
      fill: names[a] ? INK : FAINT,
    });
    labels.push({ a, text });
    svg.append(text);
  }
  const pole = el(
    "g",
    {},
    line(C[0], C[1] + 30, C[0], C[1] - R + 10, BRASS, 5),
    el("path", { d: `M${C[0]} ${C[1] - R - 26}l13 36h-26z`, fill: BRASS }),
  );
  const sight = el("g", {}),
    needle = el("g", {}),
    arc = el("path", { fill: "none", stroke: INK, "stroke-width": 1.6 }),
    figure = words(0, 0, "", 24, { "font-weight": 600, "paint-order": "stroke", stroke: PAPER, "stroke-width": 6 });
  svg.append(rose, sight, needle, arc, pole, circle(...C, 9, { fill: PAPER, "stroke-width": 2 }), figure);
  put("#drawing", svg);
  pen = { rose, labels, pole, sight, needle, arc, figure };
}
function draw(m, along = 0, turn = 0) {
  if (!pen) build();
  const poleAt = data.pole_azimuth_deg,
    up = m && state.up === "line" && m.method !== "compass" ? along : state.up === "line" ? 0 : poleAt;
  const at = (azimuth) => azimuth - up;
  pen.rose.setAttribute("transform", `rotate(${(-up).toFixed(2)} ${C[0]} ${C[1]})`);
  for (const { a, text } of pen.labels) {
    // The brass index stands before the name of its own direction.
    const poles = Math.abs(wrap180(a - poleAt)) < 1;
    const [x, y] = around(...C, R + (poles ? 46 : a % 90 ? 26 : 34), at(a));
    text.setAttribute("x", x.toFixed(1));
    text.setAttribute("y", (y + 7).toFixed(1));
  }
  pen.pole.setAttribute("transform", `rotate(${at(poleAt).toFixed(2)} ${C[0]} ${C[1]})`);
  pen.sight.replaceChildren();
  pen.needle.replaceChildren();
  pen.arc.setAttribute("d", "");
  pen.figure.textContent = "";
  if (!m) return;
  if (m.method === "compass") {
    const n = around(...C, R - 40, at(data.magnetic_declination_deg)),
      s = around(...C, R - 40, at(data.magnetic_declination_deg + 180)),
      e = around(...C, 14, at(data.magnetic_declination_deg + 90)),
      w = around(...C, 14, at(data.magnetic_declination_deg - 90));
    pen.needle.append(
      el("path", { d: `M${n}L${e}L${w}Z`, fill: INK }),
      el("path", { d: `M${s}L${e}L${w}Z`, fill: PAPER, stroke: INK, "stroke-width": 1.5 }),
    );
    return;
  }
  const tip = around(...C, R - 18, at(along)),
    shadow = m.by_shadow;
  if (shadow) pen.sight.append(line(...C, ...tip, INK, 12, { opacity: 0.28 }), line(...C, ...tip, INK, 2));
  else pen.sight.append(arrow(...C, ...tip, INK, 2.4, 16));
  const name = around(...C, R * 0.56, at(along)),
    flip = wrap180(at(along)) > 0,
    poleAbove = flip ? turn < 0 : turn > 0;
  pen.sight.append(
    words(...name, shadow ? tell.SHADOW : m.name, 18, {
      "font-style": "italic",
      dy: poleAbove ? 27 : -11,
      transform: `rotate(${(wrap180(at(along)) + (flip ? -90 : 90)).toFixed(1)} ${name[0].toFixed(1)} ${name[1].toFixed(1)})`,
    }),
  );
  if (Math.abs(turn) > 1) {
    const a = around(...C, 84, at(along)),
      b = around(...C, 84, at(along + turn));
    pen.arc.setAttribute(
      "d",
      `M${a[0].toFixed(1)} ${a[1].toFixed(1)}A84 84 0 ${Math.abs(turn) > 180 ? 1 : 0} ${turn > 0 ? 1 : 0} ${b[0].toFixed(1)} ${b[1].toFixed(1)}`,
    );
    // A narrow angle has no room for its figure: it then stands beyond the pole, away from the name.
    const beside = Math.abs(turn) > 40 ? turn / 2 : turn + Math.sign(turn) * 26;
    const f = around(...C, 112, at(along + beside));
    pen.figure.textContent = degrees(Math.abs(turn));
    pen.figure.setAttribute("x", f[0].toFixed(1));
    pen.figure.setAttribute("y", (f[1] + 8).toFixed(1));
  }
}
function changed(again = false) {
  draft.write("north", state);
  set(state);
  if (again) void update();
  else show();
}
function reflect() {
  for (const radio of $$('input[name="up"]')) radio.checked = radio.value === state.up;
  if (document.activeElement !== $("#landmark")) $("#landmark").value = state.landmark;
  if (document.activeElement !== $("#landmark-name")) $("#landmark-name").value = state.landmark_name;
}
for (const radio of $$('input[name="up"]'))
  radio.addEventListener("change", () => {
    state.up = radio.value;
    changed();
  });
$("#landmark").addEventListener("change", (event) => {
  state.landmark = event.target.value.trim();
  changed(true);
});
$("#landmark-name").addEventListener("change", (event) => {
  state.landmark_name = event.target.value.trim();
  changed(true);
});
onSettings((shared) => {
  state = { ...state, ...shared };
  reflect();
  void update();
});
onKit(update);
onBack(update);
start(busy(update(), tell.LOOKING));
tick(() => {
  if (!data) return;
  const m = chosen();
  if (now().getTime() - got > 300000 || (m?.until && now() > new Date(m.until))) void update();
  else run();
}, 1000);
