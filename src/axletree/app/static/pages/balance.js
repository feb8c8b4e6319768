// Where do weights and tube go? Drag them; open the lock and see what the axis does.

import {
  $,
  $$,
  busy,
  draft,
  failed,
  fine,
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
  still,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { BRASS, circle, el, FAINT, HAIR, INK, line, movable, PAPER, point, words, workbench } from "../shared/pen.js";
import { length, mass } from "../shared/words.js";
import { letGo } from "../shared/swing.js";

const W = 640,
  H = 470,
  C = point(320, 196);
let state = { axis: "declination", eyepiece: "", weights: null, over: null, ...(draft.read("balance") ?? {}) };
let data = null,
  freed = null,
  stop = () => {},
  parts = null,
  free = false;

async function load() {
  data = await ask("balance", { eyepiece: state.eyepiece });
  if (!state.weights || state.weights.some((w) => !data.owned[w.i])) state.weights = null;
  if (!state.weights) place();
  if (state.over === null) state.over = data.tube_balance_from_front_mm;
  show();
  await update();
}
// The weights that the answer chose, matched to those that are owned.
function place() {
  const taken = new Set();
  state.weights = data.weights
    .map((w) => {
      const i = data.owned.findIndex(
        (o, k) => !taken.has(k) && o.mass_kg === w.mass_kg && o.thickness_mm === w.thickness_mm,
      );
      taken.add(i);
      return { i, gap: w.gap_mm };
    })
    .filter((w) => w.i >= 0);
}
const now_ = latest(
  (signal) =>
    ask(
      "balance/now",
      {
        weights: state.weights.map((w) => `${w.i}@${w.gap.toFixed(1)}`).join(","),
        over_mm: state.over.toFixed(1),
        eyepiece: data.eyepiece,
      },
      signal,
    ),
  30,
);
async function update() {
  try {
    freed = await now_();
    fine();
    tell();
  } catch (error) {
    failed(error);
  }
}

const nm = (value) => `${Math.abs(value).toFixed(2)} N·m`;
function tell() {
  const f = freed[state.axis],
    hour = state.axis === "hour";
  const sinks = hour
    ? f.torque_nm > 0
      ? "the tube sinks"
      : "the weights sink"
    : f.torque_nm > 0
      ? "the front sinks"
      : "the back sinks";
  if (!f.stays)
    put("#answer", sinks.charAt(0).toUpperCase() + sinks.slice(1), make("small", {}, ` with ${nm(f.torque_nm)}`));
  else if (!hour) put("#answer", length(state.over, data.units), make("small", {}, "tube's front to saddle"));
  else
    put(
      "#answer",
      ...[...state.weights]
        .sort((a, b) => a.gap - b.gap)
        .flatMap((w) => [
          length(w.gap, data.units),
          make("small", {}, `for ${mass(data.owned[w.i].mass_kg, data.units)},`),
        ]),
      make("small", {}, "from the shaft's start"),
    );
  const move = hour ? freed.weights_outward_mm : freed.tube_to_the_back_mm;
  const advice = f.stays
    ? `It stays where it is: ${nm(f.torque_nm)} is no more than an opened axis holds by itself.`
    : move === null
      ? "There is no weight on the shaft."
      : `Slide ${hour ? (state.weights.length > 1 ? "the weights" : "the weight") : "the tube"} ${length(Math.abs(move), data.units)} ${hour ? (move > 0 ? "outwards" : "towards the head") : move > 0 ? "towards its back" : "towards the sky"}.`;
  put("#because", advice, hour && f.stays && !data.balanced ? ` ${data.headline}` : "");
  $("#free").textContent = free ? "Hold it level again" : "Open the lock";
}

function show() {
  for (const radio of $$('input[name="axis"]')) radio.checked = radio.value === state.axis;
  put(
    "#owned",
    ...data.owned.map((o, i) =>
      make(
        "label",
        {},
        make("input", {
          type: "checkbox",
          checked: state.weights.some((w) => w.i === i),
          onchange: (event) => toggle(i, event.target.checked),
        }),
        mass(o.mass_kg, data.units),
      ),
    ),
  );
  $("#owned").hidden = state.axis !== "hour";
  put(
    "#eyepieces",
    ...data.eyepieces.map((e) =>
      make(
        "label",
        {},
        make("input", {
          type: "radio",
          name: "eyepiece",
          checked: e === data.eyepiece,
          onchange: () => {
            state.eyepiece = e;
            changed();
            load().catch(failed);
          },
        }),
        e,
      ),
    ),
  );
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#places", [
    ...data.weights.map((w) => [
      make("strong", {}, mass(w.mass_kg, data.units)),
      `${length(w.gap_mm, data.units)} from the start of the shaft to its near face`,
    ]),
    [
      make("strong", {}, "Tube"),
      `${length(data.tube_balance_from_front_mm, data.units)} from its front over the declination axis`,
    ],
    ...(data.missing_at_end_kg > 0.005
      ? [`${mass(data.missing_at_end_kg, data.units)} more at the shaft's end would balance it.`]
      : []),
    ...(Math.abs(data.tube_short_of_slide_mm) > 1
      ? [`The dovetail is ${length(Math.abs(data.tube_short_of_slide_mm), data.units)} too short to balance the tube.`]
      : []),
  ]);
  list("#order", data.order_of_work);
  list("#left", [
    `Hour axis ${nm(data.hour_axis_torque_nm)}, declination axis ${nm(data.declination_axis_torque_nm)}.`,
    `Crosswise ${nm(data.crosswise.torque_nm)} that no sliding takes away${data.crosswise.trim_mass_kg ? `; ${mass(data.crosswise.trim_mass_kg, data.units)} on the light side trims it` : ""}.`,
    ...data.swaps.map(
      (s) =>
        `With ${s.eyepiece}: slide the tube ${length(Math.abs(s.tube_slide_mm), data.units)} ${s.tube_slide_mm >= 0 ? "forward" : "back"}.`,
    ),
  ]);
  const stand = data.tipping,
    rows = [];
  rows.push(
    `The mount carries ${mass(data.load.carried_kg, data.units)} of its ${mass(data.load.limit_kg, data.units)}.`,
  );
  if (stand.push_n)
    rows.push(
      `A push of ${stand.push_n.toFixed(0)} N (±${stand.push_sigma_n.toFixed(0)}) at the eyepiece tips it${stand.too_easy ? `; a leaning child can push with ${stand.push_wanted_n.toFixed(0)} N` : ""}.`,
    );
  rows.push(
    `Its centre of mass stays ${length(stand.margin_mm, data.units)} inside the feet; it falls when it leans by ${stand.lean_deg.toFixed(0)}°.`,
  );
  list("#stand", rows);
  build();
}

// The lever turns about the middle; everything on it turns along.
function build() {
  stop();
  free = false;
  const hour = state.axis === "hour",
    svg = workbench(
      W,
      H,
      hour
        ? "The shaft with its weights, seen along the polar axis, level"
        : "The tube on the saddle, from the side, level",
    );
  const lever = el("g", {});
  const k = hour ? shaft(lever) : tube(lever);
  const hub = el("g", {}, circle(...C, 17, { fill: PAPER, "stroke-width": 2.6 }), circle(...C, 4, { fill: INK }));
  svg.append(
    el("line", { x1: 20, y1: C[1], x2: W - 20, y2: C[1], stroke: HAIR, "stroke-dasharray": "3 7" }),
    el("path", {
      d: `M${C[0] - 26} ${H - 8}L${C[0]} ${C[1]}L${C[0] + 26} ${H - 8}Z`,
      fill: PAPER,
      stroke: HAIR,
      "stroke-width": 2,
    }),
    lever,
    hub,
  );
  parts = { svg, lever, ...k };
  put("#drawing", svg);
  arrange();
}
function ticks(group, x, y, from, to, perMm, origin, sense) {
  const d = ["", ""],
    us = data.units === "us",
    unit = us ? 25.4 / 4 : 10;
  for (let n = Math.ceil(from / unit); n * unit <= to + 1e-6; n += 1) {
    const long = us ? n % 4 === 0 : n % 10 === 0,
      middle = us ? n % 2 === 0 : n % 5 === 0,
      at = x + sense * (n * unit - origin) * perMm;
    d[long ? 1 : 0] += `M${at.toFixed(1)} ${y}v${long ? 15 : middle ? 10 : 6}`;
    if (long && (perMm * unit * (us ? 4 : 10) > 26 || n % (us ? 8 : 20) === 0))
      group.append(words(at, y + 34, us ? n / 4 : n * 10, 15));
  }
  group.append(
    el("path", { d: d[0], stroke: INK, "stroke-width": 0.9 }),
    el("path", { d: d[1], stroke: INK, "stroke-width": 1.8 }),
  );
}

// Hour axis, seen from behind along the polar axis: tube to the left, weights to the right.
function shaft(lever) {
  const end = data.shaft_start_mm + data.shaft_length_mm,
    axis = data.saddle_distance_mm + data.dovetail_height_mm + data.tube_diameter_mm / 2;
  const per = Math.min(285 / end, 285 / (axis + data.tube_diameter_mm / 2), 1),
    x = (mm) => C[0] + mm * per;
  lever.append(
    el("rect", {
      x: C[0] - data.saddle_distance_mm * per,
      y: C[1] - 20,
      width: (data.saddle_distance_mm + data.shaft_start_mm) * per,
      height: 40,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 2,
    }),
  );
  lever.append(
    circle(C[0] - axis * per, C[1], (data.tube_diameter_mm / 2) * per, { fill: PAPER, "stroke-width": 2.4 }),
    words(C[0] - axis * per, C[1] + 6, "tube", 18, { "font-style": "italic" }),
  );
  lever.append(
    el("rect", {
      x: C[0] - axis * per + (data.tube_diameter_mm / 2) * per,
      y: C[1] - 9,
      width: data.dovetail_height_mm * per,
      height: 18,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 1.6,
    }),
  );
  lever.append(
    el("rect", {
      x: x(data.shaft_start_mm),
      y: C[1] - 6,
      width: data.shaft_length_mm * per,
      height: 12,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 2,
    }),
    el("rect", { x: x(end) - 3, y: C[1] - 13, width: 7, height: 26, fill: INK }),
  );
  const rule = el("g", {}, line(x(data.shaft_start_mm), C[1] + 116, x(end), C[1] + 116, INK, 1.6));
  ticks(rule, x(data.shaft_start_mm), C[1] + 116, 0, data.shaft_length_mm, per, 0, 1);
  rule.append(
    words(
      x(data.shaft_start_mm + data.shaft_length_mm / 2),
      C[1] + 172,
      `${data.units === "us" ? "inches" : "mm"} from the start of the shaft`,
      15,
      { fill: FAINT, "font-style": "italic" },
    ),
  );
  for (const w of data.weights)
    rule.append(
      el("path", {
        d: `M${x(data.shaft_start_mm + w.gap_mm).toFixed(1)} ${C[1] + 115}l-7 -12h14z`,
        fill: PAPER,
        stroke: INK,
        "stroke-width": 1.5,
      }),
    );
  lever.append(rule);
  const weights = state.weights.map((w) => {
    const o = data.owned[w.i],
      r = Math.min(o.radius_mm * per, 92),
      g = el(
        "g",
        {},
        el("rect", {
          x: 0,
          y: C[1] - r,
          width: Math.max(o.thickness_mm * per, 8),
          height: 2 * r,
          fill: PAPER,
          stroke: BRASS,
          "stroke-width": 3.4,
        }),
        words((o.thickness_mm * per) / 2, C[1] + 5, mass(o.mass_kg, data.units).split(" ")[0], 16, {
          fill: BRASS,
          "font-weight": 600,
        }),
        line(0, C[1] + r, 0, C[1] + 114, BRASS, 1.8),
        el("path", { d: `M0 ${C[1] + 115}l-6 -10h12z`, fill: BRASS }),
      );
    lever.append(g);
    return { w, o, g, x: () => x(data.shaft_start_mm + w.gap) };
  });
  for (const item of weights) drag(item, per);
  return { weights };
}
function drag(item, per) {
  let grip = null;
  const to = (gap, done) => {
    const others = state.weights.filter((v) => v !== item.w).sort((a, b) => a.gap - b.gap);
    let low = 0,
      high = data.shaft_length_mm - item.o.thickness_mm;
    for (const v of others) {
      const t = data.owned[v.i].thickness_mm;
      if (v.gap < item.w.gap) low = Math.max(low, v.gap + t);
      else high = Math.min(high, v.gap - item.o.thickness_mm);
    }
    item.w.gap = Math.min(Math.max(high, low), Math.max(low, gap));
    moved(done);
  };
  movable(
    item.g,
    parts?.svg ?? item.g.ownerSVGElement ?? document.createElementNS("http://www.w3.org/2000/svg", "svg"),
    {
      move: (px, _, done) => {
        grip ??= px - item.x();
        to(data_gap(px - grip, per), done);
        if (done) grip = null;
      },
      nudge: (dx) => to(item.w.gap + dx, true),
      label: () =>
        `Weight of ${mass(item.o.mass_kg, data.units)}, ${length(item.w.gap, data.units)} from the start of the shaft`,
    },
  );
  item.g.addEventListener("pointerdown", () => {
    grip = null;
    hold();
  });
}
const data_gap = (px, per) => (px - C[0]) / per - data.shaft_start_mm;

// Declination axis: the tube from the side, its front to the left, the saddle behind the middle.
function tube(lever) {
  const per = Math.min(560 / (data.tube_length_mm * 1.25), 1),
    r = (data.tube_diameter_mm / 2) * per,
    body = el("g", {});
  body.append(
    el("rect", {
      x: 0,
      y: C[1] - r,
      width: data.tube_length_mm * per,
      height: 2 * r,
      fill: PAPER,
      stroke: BRASS,
      "stroke-width": 3.4,
    }),
    words(14, C[1] - r + 26, "front, to the sky", 17, { "text-anchor": "start", "font-style": "italic", fill: BRASS }),
  );
  const half = Math.min(data.dovetail_length_mm, data.tube_length_mm) / 2;
  body.append(
    el("rect", {
      x: (data.balance_from_front_mm - half) * per,
      y: C[1] - 13,
      width: 2 * half * per,
      height: 26,
      fill: "none",
      stroke: BRASS,
      "stroke-width": 1.2,
      "stroke-dasharray": "6 4",
    }),
  );
  const y = C[1] + r + 26,
    rule = el(
      "g",
      {},
      el("rect", { x: -14, y: y - 1, width: data.tube_length_mm * per + 28, height: 66, fill: PAPER }),
      line(0, y, data.tube_length_mm * per, y, INK, 1.6),
    );
  ticks(rule, 0, y, 0, data.tube_length_mm, per, 0, 1);
  rule.append(
    words(
      (data.tube_length_mm * per) / 2,
      y + 56,
      `${data.units === "us" ? "inches" : "mm"} from the front of the tube`,
      15,
      { fill: FAINT, "font-style": "italic" },
    ),
  );
  rule.append(
    el("path", {
      d: `M${(data.tube_balance_from_front_mm * per).toFixed(1)} ${y - 1}l-7 -12h14z`,
      fill: PAPER,
      stroke: INK,
      "stroke-width": 1.5,
    }),
  );
  body.append(rule);
  lever.append(body, line(C[0], C[1], C[0], y + 14, INK, 2));
  let grip = null;
  const reach = half,
    low = Math.max(0, data.balance_from_front_mm - reach),
    high = Math.min(data.tube_length_mm, data.balance_from_front_mm + reach);
  const to = (over, done) => {
    state.over = Math.min(high, Math.max(low, over));
    moved(done);
  };
  const item = { g: body };
  queueMicrotask(() =>
    movable(body, parts.svg, {
      move: (px, _, done) => {
        grip ??= px - (C[0] - state.over * per);
        to((C[0] - (px - grip)) / per, done);
        if (done) grip = null;
      },
      nudge: (dx) => to(state.over - dx, true),
      label: () => `Tube, ${length(state.over, data.units)} from its front over the saddle`,
    }),
  );
  body.addEventListener("pointerdown", () => {
    grip = null;
    hold();
  });
  return { body, per, tubeItem: item };
}
function arrange() {
  if (!parts) return;
  for (const item of parts.weights ?? []) item.g.setAttribute("transform", `translate(${item.x().toFixed(1)} 0)`);
  if (parts.body) parts.body.setAttribute("transform", `translate(${(C[0] - state.over * parts.per).toFixed(1)} 0)`);
  for (const target of [...(parts.weights ?? []).map((i) => i.g), ...(parts.body ? [parts.body] : [])])
    target.setAttribute("aria-disabled", String(!page.leads));
}
function moved(done) {
  arrange();
  void update();
  draft.write("balance", state);
  if (done) set({ weights: state.weights, over: state.over });
}
function toggle(i, on) {
  if (on) {
    // At the outermost place that is free.
    const t = data.owned[i].thickness_mm;
    let gap = data.shaft_length_mm - t;
    for (const v of [...state.weights].sort((a, b) => b.gap - a.gap))
      if (gap < v.gap + data.owned[v.i].thickness_mm && gap + t > v.gap) gap = v.gap - t;
    if (gap < 0) {
      show();
      failed2("There is no room left on the shaft.");
      return;
    }
    state.weights.push({ i, gap });
  } else state.weights = state.weights.filter((w) => w.i !== i);
  changed();
  show();
  void update();
}
const failed2 = (words_) => put("#because", words_);
const turn = (radians) => {
  parts?.lever.setAttribute("transform", `rotate(${((radians * 180) / Math.PI).toFixed(2)} ${C[0]} ${C[1]})`);
};
function hold() {
  stop();
  free = false;
  turn(0);
  if (freed) tell();
}
$("#free").addEventListener("click", () => {
  if (!freed) return;
  if (free) {
    hold();
    return;
  }
  free = true;
  tell();
  stop = letGo(freed[state.axis], freed.friction_nm, turn, () => {}, still.matches);
});
$("#best").addEventListener("click", () => {
  hold();
  place();
  state.over = data.tube_balance_from_front_mm;
  changed();
  show();
  void update();
});
function changed() {
  draft.write("balance", state);
  set({ ...state });
}
for (const radio of $$('input[name="axis"]'))
  radio.addEventListener("change", () => {
    state.axis = radio.value;
    changed();
    show();
    tell();
  });
onSettings((shared) => {
  state = { ...state, ...shared };
  if (data) {
    show();
    void update();
  }
});
onLead(arrange);
onKit(() => {
  state.weights = null;
  state.over = null;
  load().catch(failed);
});
onBack(update);
start();
busy(load(), "Balancing").catch(failed);
