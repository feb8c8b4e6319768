// Which leg to lengthen: the bubble is dragged to where it stands, the feet say how much.

import {
  $,
  $$,
  asking,
  busy,
  draft,
  list,
  make,
  onBack,
  onKit,
  onLead,
  onSettings,
  page,
  put,
  set,
  start,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { keptWithin } from "../shared/measure.js";
import {
  around,
  arrow,
  BRASS,
  circle,
  el,
  HAIR,
  INK,
  movable,
  PAPER,
  point,
  ring,
  trace,
  words,
  workbench,
} from "../shared/pen.js";
import * as say from "../words/level.js";

const W = 640,
  C = point(320, 310),
  VIAL = 118,
  FOOT = 232,
  BUBBLE = 30;
let state = {
  divisions: 0,
  towards: 0,
  rim: false,
  with: "bubble",
  along: "",
  across: "",
  shorten: false,
  ...(draft.read("level") ?? {}),
};
let data = null,
  parts = null;

const fetchAnswer = latest((signal) => {
  const incline = state.with === "incline";
  return ask(
    "level",
    {
      divisions: state.divisions.toFixed(2),
      towards: state.towards.toFixed(1),
      rim: state.rim,
      shorten: state.shorten,
      along: incline ? number(state.along) : null,
      across: incline ? number(state.across) : null,
    },
    signal,
  );
}, 40);
const number = (text) => {
  const value = Number(String(text).replace(",", ".").replace("−", "-") || 0);
  return Number.isFinite(value) ? value : NaN;
};

async function update() {
  const bad = state.with === "incline" && ["along", "across"].find((name) => !Number.isFinite(number(state[name])));
  $("#problem").hidden = !bad;
  for (const name of ["along", "across"]) $(`#${name}`).setAttribute("aria-invalid", String(bad === name));
  if (bad) {
    put("#problem", say.notDegrees(state[bad]));
    return;
  }
  await asking(fetchAnswer, (found) => {
    data = found;
    show();
  });
}

function show() {
  put("#answer", data.words.answer);
  put("#because", [data.words.at_rim, say.tilt(data)].filter(Boolean).join(" "));
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#left", say.leftAsItIs(data.left_as_it_is));
  list("#assumed", data.assumed);
  draw();
}
// Words stand beside the foot, where the sheet has room: right of an upward leg, below the others.
const beside = (a) => Math.cos((a * Math.PI) / 180) > 0.5;
function build() {
  const lowest = data.leg_directions_deg.map((a) => around(...C, FOOT, a)[1] + (beside(a) ? 32 : 74));
  const svg = workbench(W, Math.max(C[1] + VIAL, ...lowest) + 14, say.SHEET);
  svg.append(
    arrow(C[0], 66, C[0], 18, INK, 1.6),
    words(C[0] + 14, 34, say.toThePole(data.north), 19, { "text-anchor": "start" }),
  );
  const legs = data.leg_directions_deg.map((a) => {
    const pen = el("path", { fill: PAPER, "stroke-width": 2.2 }),
      figure = words(0, 0, "", 36, { "font-weight": 600 }),
      name = words(0, 0, "", 17),
      ticks = el("path", { "stroke-width": 1 }),
      foot = circle(0, 0, 9, { "stroke-width": 2.2 });
    const hip = around(...C, VIAL + 4, a),
      at = around(...C, FOOT, a),
      side = around(0, 0, 1, a + 90);
    pen.setAttribute(
      "d",
      trace(
        [
          [hip[0] - 12 * side[0], hip[1] - 12 * side[1]],
          [hip[0] + 12 * side[0], hip[1] + 12 * side[1]],
          [at[0] + 7 * side[0], at[1] + 7 * side[1]],
          [at[0] - 7 * side[0], at[1] - 7 * side[1]],
        ],
        true,
      ),
    );
    ticks.setAttribute(
      "d",
      [0.2, 0.32, 0.44, 0.56, 0.68, 0.8]
        .map((f) => {
          const p = around(...C, VIAL + f * (FOOT - VIAL), a);
          return `M${p[0] - 5 * side[0]} ${p[1] - 5 * side[1]}L${p[0] + 5 * side[0]} ${p[1] + 5 * side[1]}`;
        })
        .join(""),
    );
    foot.setAttribute("cx", String(at[0]));
    foot.setAttribute("cy", String(at[1]));
    const s = Math.sin((a * Math.PI) / 180),
      right = beside(a);
    const anchor = right ? "start" : "middle",
      x = right ? at[0] + 20 : at[0] + 24 * s,
      y = right ? at[1] + 8 : at[1] + 50;
    for (const [text, dy] of /** @type {const} */ ([
      [figure, 0],
      [name, 24],
    ])) {
      text.setAttribute("x", String(x));
      text.setAttribute("y", String(y + dy));
      text.setAttribute("text-anchor", anchor);
    }
    svg.append(pen, ticks, foot, figure, name);
    return { pen, ticks, foot, figure, name, x, beside: right };
  });
  svg.append(circle(...C, VIAL, { "stroke-width": 2.4, fill: PAPER }));
  const step = (VIAL - BUBBLE) / data.rim_divisions;
  for (let k = 1; k < data.rim_divisions + 0.01; k += 1)
    svg.append(circle(...C, Math.min(VIAL, BUBBLE + k * step), { stroke: HAIR }));
  svg.append(
    circle(...C, BUBBLE + 2, { stroke: INK, "stroke-width": 1.4 }),
    ring(...C, VIAL, { step: 5, middle: 10, long: 30 }),
  );
  const bubble = el(
    "g",
    {},
    circle(0, 0, BUBBLE, { stroke: BRASS, "stroke-width": 4, fill: PAPER }),
    circle(-8, -9, 6, { stroke: BRASS, "stroke-width": 1.6 }),
  );
  svg.append(bubble);
  const at = (x, y, done) => {
    const dx = x - C[0],
      dy = C[1] - y,
      far = Math.hypot(dx, dy);
    move(Math.min(far / step, data.rim_divisions), far < 0.5 ? 0 : (Math.atan2(dx, dy) * 180) / Math.PI, done);
  };
  movable(bubble, svg, {
    move: at,
    nudge: (dx, dy) => {
      const a = (state.towards * Math.PI) / 180;
      at(
        C[0] + (state.divisions * Math.sin(a) + dx * 0.1) * step,
        C[1] - (state.divisions * Math.cos(a) + dy * 0.1) * step,
        true,
      );
    },
    label: () => say.bubble(state),
  });
  bubble.setAttribute("aria-disabled", String(!page.leads));
  parts = { svg, legs, bubble, step };
  put("#drawing", svg);
}
function move(divisions, towards, done) {
  state = {
    ...state,
    divisions,
    towards: ((towards % 360) + 360) % 360,
    rim: divisions >= data.rim_divisions - 0.02,
    with: "bubble",
  };
  place();
  changed(done);
}
function place() {
  const shown = state.with === "incline" && data ? Math.min(data.tilt_deg / 0.5, data.rim_divisions) : state.divisions;
  const angle = state.with === "incline" && data ? data.high_side_from_pole_deg : state.towards;
  const p = around(...C, shown * parts.step, angle);
  parts.bubble.setAttribute("transform", `translate(${p[0].toFixed(1)} ${p[1].toFixed(1)})`);
}
function draw() {
  if (!parts) build();
  const most = Math.max(...data.legs.map((leg) => Math.abs(leg.along_leg_mm)));
  data.legs.forEach((leg, i) => {
    const mm = leg.along_leg_mm,
      moved = Math.abs(mm) >= Math.max(0.5, 0.02 * most, 0.5 * data.leg_sigma_mm),
      pen = parts.legs[i];
    for (const part of [pen.pen, pen.ticks, pen.foot]) part.setAttribute("stroke", moved ? BRASS : INK);
    pen.foot.setAttribute("fill", moved ? BRASS : PAPER);
    pen.figure.textContent = moved ? say.figure(mm, data.tilt_is_lower_bound, data.units) : say.LEAVE;
    pen.figure.setAttribute("fill", moved ? BRASS : INK);
    pen.name.textContent = say.legName(leg.leg, mm, moved);
    if (pen.beside) return;
    pen.figure.setAttribute("x", keptWithin(pen.x, pen.figure.textContent, 36, 6, W - 6, 600));
    pen.name.setAttribute("x", keptWithin(pen.x, pen.name.textContent, 17, 6, W - 6));
  });
  place();
}
function changed(done = true) {
  void update();
  draft.write("level", state);
  if (done) set(state);
}
function reflect() {
  for (const radio of $$('input[name="with"]')) radio.checked = radio.value === state.with;
  $("#incline").hidden = state.with !== "incline";
  $("#how").hidden = state.with === "incline";
  for (const name of ["along", "across"])
    if (document.activeElement !== $(`#${name}`)) $(`#${name}`).value = state[name];
  $("#shorten").checked = state.shorten;
}
for (const radio of $$('input[name="with"]'))
  radio.addEventListener("change", () => {
    state = { ...state, with: radio.value };
    reflect();
    changed();
  });
for (const name of ["along", "across"])
  $(`#${name}`).addEventListener("input", (event) => {
    state = { ...state, [name]: event.target.value };
    changed();
  });
$("#shorten").addEventListener("change", (event) => {
  state = { ...state, shorten: event.target.checked };
  changed();
});
onSettings((shared) => {
  state = { ...state, ...shared };
  reflect();
  void update();
});
onKit(() => {
  parts = null;
  void update();
});
onBack(update);
onLead((leads) => parts?.bubble.setAttribute("aria-disabled", String(!leads)));
reflect();
start(busy(update(), say.READING));
