// How far is the axis off, really? Stars are measured one after the other, and the ellipse shrinks.

import {
  $,
  $$,
  asking,
  busy,
  draft,
  failed,
  list,
  make,
  now,
  onBack,
  onKit,
  onLead,
  onSettings,
  page,
  put,
  start,
  tick,
} from "../shared/page.js";
import { ask, latest, send } from "../shared/link.js";
import { newId } from "../shared/new_id.js";
import { shapeOf } from "../shared/ellipse.js";
import * as say from "../words/check.js";
import { cleared, form, keep, mark, rowNow, runWatch, state, unmark, watching } from "./check_entry.js";
import { makePictures } from "./check_pictures.js";
import { forget, transition } from "./check_shape.js";

const blank = () => ({ id: newId(6), rows: [] });
let sheets = { drift: blank(), readings: blank(), ...(draft.read("check-sheets") ?? {}) };
let data = null;
const keepSheets = () => draft.write("check-sheets", sheets);

const fetchAnswer = latest((signal) => ask("check", { at: now().toISOString() }, signal), 60);
const update = () =>
  asking(fetchAnswer, (found) => {
    data = found;
    show();
  });

function show() {
  const shape = data.measured ? shapeOf(data) : null,
    known = shape?.rank === 2,
    next = data.next_drift;
  $("#bolts").hidden = !data.measured;
  if (!data.measured) {
    const [star, todo] = say.begin(next);
    put("#answer", star, make("small", {}, ` ${todo}`));
    put("#because", [say.nothingYet(data.last_turn, page.zone), data.words.verdict].join(" "));
  } else {
    const [figure, rest] = known ? say.off(data) : say.ONE_DIRECTION;
    put("#answer", figure, make("small", {}, ` ${rest}`));
    put("#because", `${data.words.error} ${data.words.verdict}`);
  }
  const said = data.words;
  // The numbers are those of the drawing's arrows.
  list("#turn", [
    ...(said.before_turning ? [said.before_turning] : []),
    ...said.turn.map((t, i) => [make("strong", {}, `${i + 1}`), t.replaceAll("± ", "±\u00a0")]),
  ]);
  put(
    "#beware",
    ...[...said.at_odds, ...said.looks_wrong].map((w) => make("p", { class: "problem" }, w)),
    said.caution ? make("p", { class: "caution" }, said.caution) : null,
  );
  list("#see", [...said.next, ...said.see]);
  $("#see-title").hidden = !(said.next.length || said.see.length);
  put("#see-title", said.see.length ? say.NEXT_AND_SEE : say.NEXT);
  list("#counted", [
    ...(data.measurements ?? []).map((m, i) => [make("strong", {}, letter(i)), say.measurement(m, page.zone)]),
    ...(data.before_turn ? [say.beforeTurn(data.before_turn)] : []),
    ...(data.measured ? [] : [say.NONE_YET]),
  ]);
  list("#assumed", [...said.facts, ...said.assumed]);
  const steps = data.bolts;
  for (const [id, turns] of [
    ["altitude", steps?.altitude_turns],
    ["azimuth", steps?.azimuth_turns],
  ])
    $(`#${id}`).placeholder = turns ? say.turns(turns) : "0";
  transition(data, shape);
  formed();
}
const letter = (i) => "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[i % 26];

function formed(force = false) {
  rows();
  form(data, force);
}
function rows() {
  const own = sheets[state.method];
  list(
    "#rows",
    own.rows.map((r, i) => [
      say.row(r),
      make(
        "button",
        {
          type: "button",
          class: "wordy take",
          "aria-label": say.takeOut(r),
          disabled: !page.leads,
          onclick: () => measure(own.rows.filter((_, k) => k !== i)),
        },
        say.TAKE_OUT,
      ),
    ]),
  );
  if (state.method === "readings" && own.rows.length === 1)
    $("#rows").append(make("li", { class: "faint" }, say.ONE_READING));
  if (own.unsent) $("#rows").append(make("li", { class: "faint" }, say.KEPT_HERE));
}

// The whole sheet goes to the machine, which measures with it; without a link it is kept and sent.
async function measure(next) {
  const method = state.method,
    old = sheets[method].rows;
  const give = (rows_) => {
    sheets = { ...sheets, [method]: { ...sheets[method], rows: rows_ } };
    keepSheets();
    rows();
  };
  give(next);
  try {
    const reply = await busy(
      send(
        "PUT",
        "/check/sheet",
        { at: now().toISOString(), method, id: sheets[method].id, rows: next },
        `sheet-${method}`,
      ),
      say.MEASURING,
    );
    if (next.length > old.length) cleared(method);
    sheets[method] = { ...sheets[method], unsent: !reply };
    keepSheets();
    if (reply) await update();
    else rows();
  } catch (error) {
    give(old);
    if (error.status === 422) {
      if (error.field || next.length > old.length) mark(error.field, error.message);
      else put("#row-problem", error.message).hidden = false;
    } else failed(error);
  }
}
$("#row").addEventListener("submit", (event) => {
  event.preventDefault();
  for (const p of $$("#entry .problem")) p.hidden = true;
  $("#row-problem").hidden = true;
  if (state.watching) {
    watching();
  }
  const row = rowNow();
  if (!row.star) {
    mark("star", say.WHICH_STAR);
    return;
  }
  if (state.method === "drift" && !row.watched_s) {
    mark("watched_s", say.HOW_LONG);
    return;
  }
  void measure([...sheets[state.method].rows, row]);
});
for (const radio of $$('input[name="method"]'))
  radio.addEventListener("change", () => {
    state.method = radio.value;
    keep();
    formed(true);
  });

for (const id of ["altitude", "azimuth"]) {
  $(`#${id}`).value = state[id] ?? "";
  $(`#${id}`).addEventListener("input", (event) => {
    state[id] = event.target.value;
    keep();
    unmark(id);
  });
}
$("#turned").addEventListener("click", async () => {
  const turns = {};
  for (const id of ["altitude", "azimuth"]) {
    const text = ($(`#${id}`).value.trim() || $(`#${id}`).placeholder).replace("−", "-").replace(",", "."),
      value = Number(text);
    if (!Number.isFinite(value) || Math.abs(value) > 100) {
      put(`#${id}-problem`, say.notTurns(text)).hidden = false;
      $(`#${id}`).setAttribute("aria-invalid", "true");
      $(`#${id}`).focus();
      return;
    }
    turns[`${id}_turns`] = value;
  }
  try {
    await send("POST", "/check/turned", { at: now().toISOString(), ...turns });
    sheets = { drift: blank(), readings: blank() };
    keepSheets();
    state.altitude = state.azimuth = "";
    keep();
    for (const id of ["altitude", "azimuth"]) $(`#${id}`).value = "";
    forget();
    await update();
  } catch (error) {
    failed(error);
  }
});

onSettings((shared) => {
  // Rows that this page sent and that came back are the same ones; others' take their place.
  let changed = false;
  for (const method of ["drift", "readings"]) {
    const theirs = shared[method];
    // What waits for the link is newer than what the machine knows.
    if (sheets[method].unsent) {
      if (JSON.stringify(theirs?.rows) !== JSON.stringify(sheets[method].rows)) continue;
      sheets[method] = theirs;
      changed = true;
    }
    if (theirs && JSON.stringify(theirs) !== JSON.stringify(sheets[method])) {
      sheets[method] = theirs;
      changed = true;
    }
    if (!theirs && !page.leads && sheets[method].rows.length) {
      sheets[method] = blank();
      changed = true;
    }
  }
  if (changed) keepSheets();
  if (data) {
    rows();
    void update();
  }
});
onLead(() => data && rows());
onKit(() => {
  forget();
  void update();
});
onBack(update);
makePictures(update);
formed();
start(busy(update(), say.READING));
tick(() => runWatch());
