// Where to put the tripod: the plan is dragged, the tint follows, a touch asks about a place.

import {
  $,
  $$,
  busy,
  draft,
  failed,
  fine,
  list,
  make,
  notice,
  onBack,
  onKit,
  onLead,
  page,
  put,
  start,
} from "../shared/page.js";
import { latest, ask, post, send } from "../shared/link.js";
import { circle, el, INK, placeIn, workbench } from "../shared/pen.js";
import { drawingFrom } from "../shared/drawing.js";
import { compassPoint } from "../shared/words.js";
import * as say from "../words/spot.js";
import { add, fields } from "./spot_fields.js";
import { shapes } from "./spot_grips.js";
import { frameOf, heat, northArrow, rulers, tripodMark, W } from "./spot_plan.js";

let plan = null,
  saved = null,
  data = null,
  revision = 0,
  units = page.units,
  chosen = null,
  frame = null,
  pen = null,
  asked = null,
  pole = true;
const changed = () => saved && JSON.stringify(plan) !== saved;

async function load(fresh = false) {
  const found = await ask("yard");
  revision = found.revision;
  units = found.units;
  const kept = fresh ? null : draft.read("spot");
  saved = JSON.stringify(found.yard);
  plan = kept?.plan && kept.revision === revision ? kept.plan : found.yard;
  put("#how", found.planned || changed() ? say.DRAG : say.BEGIN);
  frame = frameOf(plan);
  build();
  await update(0.25);
}
const score = latest(
  (signal, spacing) => post("/answer/spot", { yard: plan, spacing_m: spacing, pole_needed: pole }, signal),
  40,
);
async function update(spacing) {
  try {
    data = await busy(score(spacing), say.JUDGING);
    fine();
    tell();
    tint();
  } catch (error) {
    failed(error);
  }
}

function tell() {
  const best = data.best;
  if (!best) {
    put("#answer", data.words.answer);
    put("#because", data.words.because);
  } else {
    put(
      "#answer",
      say.metres(best.x_m, units),
      make("small", {}, say.ACROSS),
      say.metres(best.y_m, units),
      make("small", {}, say.UP),
    );
    put("#because", say.because(data));
  }
  list(
    "#steps",
    data.step_away.map((s) => [make("strong", {}, compassPoint(s.azimuth_deg)), say.step(s, data.pole_star)]),
  );
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#assumed", say.assumed(data));
  const strip = drawingFrom(data.drawing);
  put("#skyline", strip ?? "");
  about();
}
function about() {
  if (!asked || !data) {
    put("#here");
    return;
  }
  const g = data.grid,
    c = nearest(g.x_m, asked[0]),
    r = nearest(g.y_m, asked[1]),
    here = {
      score: g.score[r]?.[c] ?? -2,
      clearance: g.pole_clearance_deg[r]?.[c],
      hours: g.object_hours[r]?.[c],
      open: g.open_object_hours,
      pole: data.pole_star,
    };
  put("#here", say.there(asked, units, here));
}
const nearest = (list_, v) => list_.reduce((best, x, i) => (Math.abs(x - v) < Math.abs(list_[best] - v) ? i : best), 0);

function build() {
  const svg = workbench(W, frame.high, say.SHEET);
  const tintLayer = el("g", {}),
    shapeLayer = el("g", {}),
    markLayer = el("g", {});
  svg.append(tintLayer, shapeLayer, markLayer, rulers(frame, units));
  svg.addEventListener("click", (event) => {
    if (event.target instanceof Element && event.target.closest(".movable")) return;
    const [x, y] = placeIn(svg, event);
    asked = [Math.round(frame.mx(x) * 10) / 10, Math.round(frame.my(y) * 10) / 10];
    about();
    mark();
  });
  pen = { svg, tintLayer, shapeLayer, markLayer };
  put("#drawing", svg);
  outline();
}
function outline() {
  const active = document.activeElement,
    focused = active instanceof SVGElement && active.dataset.grip ? { ...active.dataset } : null;
  pen.shapeLayer.replaceChildren(shapes(pen.svg, plan, frame, { units, chosen, changed: moved, choose }));
  for (const grip of $$(".movable", pen.shapeLayer)) grip.setAttribute("aria-disabled", String(!page.leads));
  // A shape that was taken up has a grip at each corner now; its first one goes on.
  const grips = $$(".movable", pen.shapeLayer),
    same = grips.find((g) => g.dataset.grip === focused?.grip) ?? grips.find((g) => g.dataset.of === focused?.of);
  same?.focus({ preventScroll: true });
  described();
}
function described() {
  $("#keeping").hidden = !changed();
  const take = (pick) => {
    chosen = pick;
  };
  fields(plan, { chosen, units, moved, drawn: outline, choose: take });
}
function tint() {
  pen.tintLayer.replaceChildren(heat(data.grid, frame));
  pen.tintLayer.setAttribute("opacity", 1);
  mark();
}
function mark() {
  pen.markLayer.replaceChildren();
  if (data?.best) pen.markLayer.append(tripodMark(frame.x(data.best.x_m), frame.y(data.best.y_m), INK));
  if (asked)
    pen.markLayer.append(
      circle(frame.x(asked[0]), frame.y(asked[1]), 9, { "stroke-width": 2.4, "stroke-dasharray": "3 3" }),
    );
  pen.markLayer.append(northArrow(frame, data?.grid.turn_deg ?? 0));
  pen.markLayer.style.pointerEvents = "none";
}
function moved(done) {
  pen.tintLayer.setAttribute("opacity", 0.55);
  draft.write("spot", { plan, revision });
  $("#keeping").hidden = !changed();
  void update(done ? 0.25 : 0.75);
}
function choose(pick) {
  if (chosen && chosen.kind === pick.kind && chosen.index === pick.index) return;
  chosen = pick;
  // The drawing is made again when the finger is up, else the drag would lose its handle.
  const again = () => {
    outline();
  };
  if (pen.svg.querySelector(".movable:active")) window.addEventListener("pointerup", again, { once: true });
  else again();
}

for (const button of $$("[data-add]"))
  button.addEventListener("click", () => {
    chosen = add(plan, button.dataset.add);
    outline();
    moved(true);
  });
$("#pole").addEventListener("change", (event) => {
  pole = event.target.checked;
  void update(0.25);
});
$("#keep").addEventListener("click", async () => {
  try {
    const reply = await busy(send("PUT", "/kit/yard", { yard: plan, revision }, "yard"), say.KEEPING);
    if (reply) {
      revision = reply.revision;
      saved = JSON.stringify(plan);
      draft.clear("spot");
      described();
      notice("kept", say.KEPT);
      setTimeout(() => notice("kept", ""), 4000);
    }
  } catch (error) {
    failed(error);
  }
});
$("#discard").addEventListener("click", () => {
  draft.clear("spot");
  chosen = null;
  load(true).catch(failed);
});
onKit(() => {
  if (!changed()) load(true).catch(failed);
});
onLead(() => pen && outline());
onBack(() => update(0.25));
start(load().catch(failed));
