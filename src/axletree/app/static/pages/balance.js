// Where do weights and tube go? Slide them by hand; open the lock and see what the axis does.

import {
  $,
  $$,
  asking,
  busy,
  draft,
  failed,
  list,
  make,
  onBack,
  onKit,
  onLead,
  onSettings,
  put,
  radios,
  set,
  start,
  still,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { mass } from "../shared/words.js";
import { letGo } from "../shared/swing.js";
import * as say from "../words/balance.js";
import { arrange, build, turn } from "./balance_lever.js";

let state = { axis: "declination", eyepiece: "", weights: null, over: null, ...(draft.read("balance") ?? {}) };
let data = null,
  freed = null,
  stop = () => {},
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
const update = () =>
  asking(fetchFreed, (found) => {
    freed = found;
    tell();
  });

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
    ...radios(
      "eyepiece",
      data.eyepieces.map((e) => [e, e]),
      data.eyepiece,
      (e) => {
        state.eyepiece = e;
        changed();
        load().catch(failed);
      },
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
  stop();
  free = false;
  build(data, state, { moved, held: holdLevel });
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
start(busy(load(), say.BALANCING).catch(failed));
