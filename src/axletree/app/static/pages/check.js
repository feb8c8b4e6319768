// How far is the axis off, really? Stars are measured one after the other, and the ellipse shrinks.

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
  start,
  still,
  tick,
} from "../shared/page.js";
import { ask, latest, send } from "../shared/link.js";
import { between, ellipseDrawing, reachOf, shapeOf } from "../shared/ellipse.js";
import { capital, clock } from "../shared/words.js";
import * as say from "../words/check.js";

const WAYS = ["north", "south", "up", "down", "left", "right"];
const newId = () =>
  Array.from(crypto.getRandomValues(new Uint8Array(6)), (b) => b.toString(16).padStart(2, "0")).join("");
const blank = () => ({ id: newId(), rows: [] });
const state = {
  method: "drift",
  entry: { drift: {}, readings: {} },
  size: "arcsec",
  watching: 0,
  ...(draft.read("check") ?? {}),
};
let sheets = { drift: blank(), readings: blank(), ...(draft.read("check-sheets") ?? {}) };
let data = null,
  before = null,
  drawn = null,
  moving = 0;
const keep = () => draft.write("check", state),
  keepSheets = () => draft.write("check-sheets", sheets);
const entry = () => state.entry[state.method];

const fetchAnswer = latest((signal) => ask("check", { at: now().toISOString() }, signal), 60);
async function update() {
  try {
    data = await fetchAnswer();
    fine();
    show();
  } catch (error) {
    failed(error);
  }
}

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
  transition(shape);
  form();
}
const letter = (i) => "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[i % 26];

// The ellipse goes from what was known before to what is known now; the old one stays dashed.
function transition(shape) {
  const key = JSON.stringify(shape);
  if (key === drawn?.key) {
    draw(drawn.shape, 1);
    return;
  }
  before = drawn?.shape && shape ? drawn.shape : null;
  drawn = { key, shape };
  cancelAnimationFrame(moving);
  if (!before?.ellipse || !shape?.ellipse || still.matches) {
    draw(shape, 1);
    return;
  }
  const began = performance.now(),
    step = (t) => {
      const part = Math.min((t - began) / 900, 1),
        eased = part * part * (3 - 2 * part);
      draw(between(before, shape, eased), eased);
      if (part < 1) moving = requestAnimationFrame(step);
    };
  moving = requestAnimationFrame(step);
}
function draw(shape, part) {
  const good = data.good_enough_arcmin,
    measured = (data.measurements ?? []).map((m) => ({ shape: shapeOf(m), used: !m.left_out }));
  const scale = shape
    ? reachOf([shape, before?.ellipse ? before : shape], good)
    : { reach: Math.ceil(good * 1.3), step: [1, 2, 5, 10, 20, 50].find((s) => s >= good * 0.26) ?? 100 };
  if (!shape) scale.reach = Math.ceil(scale.reach / scale.step) * scale.step;
  put(
    "#drawing",
    ellipseDrawing(
      {
        now: shape,
        before,
        measured: part < 1 ? [] : measured,
        good,
        north: data.north,
        turn: part >= 1 && data.bolts_to_turn === true,
      },
      scale,
      say.sheet,
    ),
  );
}

// The form for one star.
function field(name, label, given = {}) {
  const id = `e-${name}`;
  return make(
    "div",
    { class: "field" },
    make("label", { for: id }, label),
    make("input", {
      id,
      type: "text",
      autocomplete: "off",
      spellcheck: "false",
      maxlength: "60",
      "aria-describedby": `${id}-problem`,
      value: entry()[name] ?? "",
      oninput: (event) => {
        entry()[name] = event.target.value;
        keep();
        unmark(id);
      },
      ...given,
    }),
    make("p", { class: "problem", id: `${id}-problem`, hidden: true }),
  );
}
function radios(name, label, choices, given, chosen = entry()[name] ?? "") {
  return make(
    "fieldset",
    { class: "plain" },
    make("legend", { class: "label" }, label),
    make(
      "div",
      { class: "choices" },
      ...choices.map(([value, text]) =>
        make(
          "label",
          {},
          make("input", {
            type: "radio",
            name: `e-${name}`,
            value,
            checked: value === chosen,
            onchange: () => given(value),
          }),
          ` ${text}`,
        ),
      ),
    ),
    make("p", { class: "problem", id: `e-${name}-problem`, hidden: true }),
  );
}
const choose = (name) => (value) => {
  entry()[name] = value;
  keep();
  unmark(`e-${name}`);
  if (name === "towards") form();
};
const watch = () => (now().getTime() - state.watching) / 1000;
function starButtons() {
  const first = [data?.next_drift?.star, ...(data?.stars ?? []).map((s) => s.name)]
    .filter((n, i, all) => n && all.indexOf(n) === i)
    .slice(0, 7);
  const where = (name) => data.stars.find((s) => s.name === name);
  return make(
    "div",
    { class: "up" },
    ...first.map((name, i) =>
      make(
        "button",
        {
          type: "button",
          class: "wordy",
          onclick: () => {
            entry().star = name;
            keep();
            $("#e-star").value = name;
            unmark("e-star");
          },
        },
        name,
        i === 0 && data?.next_drift ? say.TELLS_MOST : "",
        where(name) ? make("span", { class: "apart" }, say.stands(where(name))) : "",
      ),
    ),
  );
}
let built = "";
function form(force = false) {
  for (const radio of $$('input[name="method"]')) radio.checked = radio.value === state.method;
  put("#how", say.HOW[state.method]);
  rows();
  const drift = state.method === "drift",
    turned = WAYS.indexOf(entry().towards ?? "") > 1;
  const key = JSON.stringify([
    state.method,
    state.size,
    turned,
    Boolean(state.watching),
    data?.next_drift?.star,
    data?.stars?.map((s) => s.name),
  ]);
  if (key === built && !force) return;
  built = key;
  const focus = document.activeElement?.id;
  const parts = [field("star", say.STAR), data ? starButtons() : null];
  if (drift) {
    parts.push(
      make(
        "button",
        { type: "button", class: state.watching ? "act wide" : "plainly wide", id: "watch", onclick: watching },
        "",
      ),
      make(
        "div",
        { class: "pair" },
        field("started", say.BEGAN_AT, { placeholder: "21:05:30" }),
        field("watched_s", say.WATCHED, { inputmode: "decimal", placeholder: "300" }),
      ),
      radios(
        "size",
        say.HOW_FAR,
        [
          ["arcsec", say.ARCSECONDS],
          ["divisions", say.DIVISIONS],
          ["field", say.TO_THE_EDGE],
        ],
        (value) => {
          state.size = value;
          keep();
          form();
        },
        state.size,
      ),
    );
    if (state.size === "arcsec") parts.push(field("drift_arcsec", say.DRIFT_ARCSECONDS, { inputmode: "decimal" }));
    if (state.size === "divisions")
      parts.push(
        make(
          "div",
          { class: "pair" },
          field("divisions", say.DRIFT_DIVISIONS, { inputmode: "decimal" }),
          field("division_arcsec", say.ONE_DIVISION, { inputmode: "decimal" }),
        ),
      );
    if (state.size === "field")
      parts.push(
        radios(
          "field_arcmin",
          say.EYEPIECE,
          (data?.eyepieces ?? []).map((e) => [e.field_arcmin.toFixed(2), say.eyepiece(e)]),
          choose("field_arcmin"),
        ),
      );
    parts.push(
      radios(
        "towards",
        say.IT_WENT,
        WAYS.map((w) => [w, say.DIRECTIONS[w]]),
        choose("towards"),
      ),
    );
    if (turned)
      parts.push(
        radios(
          "north_is",
          say.NORTH_IS,
          ["up", "down", "left", "right"].map((w) => [w, say.DIRECTIONS[w]]),
          choose("north_is"),
        ),
      );
  } else {
    parts.push(
      make(
        "div",
        { class: "pair" },
        field("read_at", say.READ_AT, { placeholder: clock(now(), page.zone, true) }),
        radios(
          "tube_side",
          say.TUBE_HANGS,
          [
            ["east", say.DIRECTIONS.east],
            ["west", say.DIRECTIONS.west],
          ],
          choose("tube_side"),
        ),
      ),
      make(
        "div",
        { class: "pair" },
        field("hour_circle_h", say.HOUR_CIRCLE, { placeholder: "5:15" }),
        field("declination_circle_deg", say.DECLINATION_CIRCLE, { placeholder: "+38.8" }),
      ),
    );
  }
  put("#entry", ...parts);
  runWatch();
  if (focus?.startsWith("e-") || focus === "watch") document.getElementById(focus)?.focus();
}
function watching() {
  const e = entry();
  if (!state.watching) {
    state.watching = now().getTime();
    e.started = clock(now(), page.zone, true);
    e.watched_s = "";
  } else {
    e.watched_s = watch().toFixed(0);
    state.watching = 0;
  }
  keep();
  form(true);
}
function runWatch() {
  const button = $("#watch");
  if (!button) return;
  const wanted = data?.next_drift?.watch_s ?? 300;
  const words = state.watching ? say.stopWatch(watch()) : say.startWatch(wanted);
  if (button.textContent !== words) put(button, words);
}

// What will be sent: only what belongs to the way of measuring that is open.
function rowNow() {
  const e = entry(),
    wanted =
      state.method === "readings"
        ? ["star", "read_at", "tube_side", "hour_circle_h", "declination_circle_deg"]
        : [
            "star",
            "started",
            "watched_s",
            ...{ arcsec: ["drift_arcsec"], divisions: ["divisions", "division_arcsec"], field: ["field_arcmin"] }[
              state.size
            ],
            "towards",
            ...(WAYS.indexOf(e.towards ?? "") > 1 ? ["north_is"] : []),
          ];
  const row = Object.fromEntries(wanted.map((n) => [n, (e[n] ?? "").trim()]).filter(([, v]) => v));
  if (state.method === "readings" && !row.read_at) row.read_at = clock(now(), page.zone, true);
  return row;
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

function unmark(id) {
  const p = document.getElementById(`${id}-problem`);
  if (p) {
    p.hidden = true;
    document.getElementById(id)?.setAttribute("aria-invalid", "false");
  }
  $("#row-problem").hidden = true;
}
function mark(name, words) {
  const input = document.getElementById(`e-${name}`),
    problem = document.getElementById(`e-${name}-problem`);
  if (!problem) {
    put("#row-problem", words).hidden = false;
    $("#row-problem").scrollIntoView({ block: "nearest" });
    return;
  }
  put(problem, capital(words)).hidden = false;
  (input ?? $(`input[name="e-${name}"]`))?.focus();
  input?.setAttribute("aria-invalid", "true");
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
    if (next.length > old.length) {
      const { north_is = "", division_arcsec = "", field_arcmin = "", tube_side = "" } = state.entry[method];
      state.entry[method] = Object.fromEntries(
        Object.entries({ north_is, division_arcsec, field_arcmin, tube_side }).filter(([, v]) => v),
      );
      keep();
      form(true);
    }
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
    form(true);
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
    drawn = null;
    before = null;
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
  drawn = null;
  before = null;
  void update();
});
onBack(update);
form();
start();
busy(update(), say.READING);
tick(() => runWatch());
