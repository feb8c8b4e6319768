// Where do weights and tube go? Slide them by hand; open the lock and see what the axis does.

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
import { mass } from "../shared/words.js";
import { letGo } from "../shared/swing.js";
import * as say from "../words/balance.js";

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
const fetchFreed = latest(
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
    freed = await fetchFreed();
    fine();
    tell();
  } catch (error) {
    failed(error);
  }
}

function tell() {
  const f = freed[state.axis],
    hour = state.axis === "hour";
  /** @param {string[]} parts */
  const answer = ([what, small]) => [what, make("small", {}, small)];
  if (!f.stays) {
    const heavy = f.torque_nm > 0;
    put(
      "#answer",
      ...answer(say.sinks(state.axis, hour ? (heavy ? "tube" : "weights") : heavy ? "front" : "back", f.torque_nm)),
    );
  } else if (!hour) put("#answer", ...answer(say.tubeAt(state.over, data.units)));
  else
    put(
      "#answer",
      ...[...state.weights]
        .sort((a, b) => a.gap - b.gap)
        .flatMap((w) => answer(say.weightAt(w.gap, data.owned[w.i].mass_kg, data.units))),
      make("small", {}, say.FROM_START),
    );
  put("#because", advice(f, hour), hour && f.stays && !data.balanced ? ` ${data.headline}` : "");
  $("#free").textContent = free ? say.HOLD : say.OPEN;
}
function advice(f, hour) {
  if (f.stays) return say.stays(f.torque_nm);
  if (!hour) return say.slideTube(freed.tube_to_the_back_mm, data.units);
  if (freed.weights_outward_mm === null) return say.NO_WEIGHT;
  return say.slideWeights(state.weights.length, freed.weights_outward_mm, data.units);
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
  /** @param {string[]} parts */
  const placeRow = ([what, where]) => [make("strong", {}, what), where];
  list("#places", [
    ...data.weights.map((w) => placeRow(say.weightPlace(w, data.units))),
    placeRow(say.tubePlace(data)),
    ...(!data.balanced && data.missing_at_end_kg > 0 ? [say.missing(data.missing_at_end_kg, data.units)] : []),
    ...(data.tube_stuck_code ? [say.dovetailShort(data.tube_short_of_slide_mm, data.units)] : []),
  ]);
  list("#order", data.order_of_work);
  list("#left", say.leftOver(data));
  list("#stand", say.stand(data));
  build();
}

// The lever turns about the middle; everything on it turns along.
function build() {
  stop();
  free = false;
  const hour = state.axis === "hour",
    svg = workbench(W, H, say.sheet(state.axis));
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
    words(C[0] - axis * per, C[1] + 6, say.TUBE, 18, { "font-style": "italic" }),
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
    words(x(data.shaft_start_mm + data.shaft_length_mm / 2), C[1] + 172, say.shaftRuler(data.units), 15, {
      fill: FAINT,
      "font-style": "italic",
    }),
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
        words((o.thickness_mm * per) / 2, C[1] + 5, say.massFigure(o.mass_kg, data.units), 16, {
          fill: BRASS,
          "font-weight": 600,
        }),
        line(0, C[1] + r, 0, C[1] + 114, BRASS, 1.8),
        el("path", { d: `M0 ${C[1] + 115}l-6 -10h12z`, fill: BRASS }),
      );
    lever.append(g);
    return { w, o, g, x: () => x(data.shaft_start_mm + w.gap) };
  });
  for (const item of weights) slideable(item, per);
  return { weights };
}
function slideable(item, per) {
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
        to(gapAt(px - grip, per), done);
        if (done) grip = null;
      },
      nudge: (dx) => to(item.w.gap + dx, true),
      label: () => say.weightHandle(item.o.mass_kg, item.w.gap, data.units),
    },
  );
  item.g.addEventListener("pointerdown", () => {
    grip = null;
    holdLevel();
  });
}
const gapAt = (px, per) => (px - C[0]) / per - data.shaft_start_mm;

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
    words(14, C[1] - r + 26, say.FRONT, 17, { "text-anchor": "start", "font-style": "italic", fill: BRASS }),
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
    words((data.tube_length_mm * per) / 2, y + 56, say.tubeRuler(data.units), 15, {
      fill: FAINT,
      "font-style": "italic",
    }),
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
      label: () => say.tubeHandle(state.over, data.units),
    }),
  );
  body.addEventListener("pointerdown", () => {
    grip = null;
    holdLevel();
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
      put("#because", say.FULL);
      return;
    }
    state.weights.push({ i, gap });
  } else state.weights = state.weights.filter((w) => w.i !== i);
  changed();
  show();
  void update();
}
const turn = (radians) => {
  parts?.lever.setAttribute("transform", `rotate(${((radians * 180) / Math.PI).toFixed(2)} ${C[0]} ${C[1]})`);
};
function holdLevel() {
  stop();
  free = false;
  turn(0);
  if (freed) tell();
}
$("#free").addEventListener("click", () => {
  if (!freed) return;
  if (free) {
    holdLevel();
    return;
  }
  free = true;
  tell();
  stop = letGo(freed[state.axis], freed.friction_nm, turn, () => {}, still.matches);
});
$("#best").addEventListener("click", () => {
  holdLevel();
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
busy(load(), say.BALANCING).catch(failed);
