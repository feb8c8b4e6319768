// What is typed of one star, and what of it belongs to the way of measuring that is open?

import { $, $$, draft, make, now, page, put, radios } from "../shared/page.js";
import { onPutBack } from "../shared/put_back.js";
import { capital, clock } from "../shared/words.js";
import * as say from "../words/check.js";

const WAYS = ["north", "south", "up", "down", "left", "right"];
export const state = {
  method: "drift",
  entry: { drift: {}, readings: {} },
  size: "arcsec",
  watching: 0,
  ...(draft.read("check") ?? {}),
};
export const keep = () => draft.write("check", state);
const entry = () => state.entry[state.method];
let data = null;

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
function choices(name, label, rows, given, chosen = entry()[name] ?? "") {
  return make(
    "fieldset",
    { class: "plain" },
    make("legend", { class: "label" }, label),
    make(
      "div",
      { class: "choices" },
      ...radios(
        `e-${name}`,
        rows.map(([value, text]) => [value, ` ${text}`]),
        chosen,
        given,
      ),
    ),
    make("p", { class: "problem", id: `e-${name}-problem`, hidden: true }),
  );
}
const choose = (name) => (value) => {
  entry()[name] = value;
  keep();
  unmark(`e-${name}`);
  if (name === "towards") form(data);
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
// `answer` is what is known so far; a form that is as it should be already stays as it is.
export function form(answer, force = false) {
  data = answer;
  for (const radio of $$('input[name="method"]')) radio.checked = radio.value === state.method;
  put("#how", say.HOW[state.method]);
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
      choices(
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
          form(data);
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
        choices(
          "field_arcmin",
          say.EYEPIECE,
          (data?.eyepieces ?? []).map((e) => [e.field_arcmin.toFixed(2), say.eyepiece(e)]),
          choose("field_arcmin"),
        ),
      );
    parts.push(
      choices(
        "towards",
        say.IT_WENT,
        WAYS.map((w) => [w, say.DIRECTIONS[w]]),
        choose("towards"),
      ),
    );
    if (turned)
      parts.push(
        choices(
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
        choices(
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
export function watching() {
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
  form(data, true);
}
onPutBack((byMs) => {
  if (!state.watching) return;
  state.watching += byMs;
  keep();
});
export function runWatch() {
  const button = $("#watch");
  if (!button) return;
  const wanted = data?.next_drift?.watch_s ?? 300;
  const words = state.watching ? say.stopWatch(watch()) : say.startWatch(wanted);
  if (button.textContent !== words) put(button, words);
}

// What will be sent: only what belongs to the way of measuring that is open.
export function rowNow() {
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

export function unmark(id) {
  const p = document.getElementById(`${id}-problem`);
  if (p) {
    p.hidden = true;
    document.getElementById(id)?.setAttribute("aria-invalid", "false");
  }
  $("#row-problem").hidden = true;
}
export function mark(name, words) {
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

// The next star is measured the same way.
export function cleared(method) {
  const { north_is = "", division_arcsec = "", field_arcmin = "", tube_side = "" } = state.entry[method];
  state.entry[method] = Object.fromEntries(
    Object.entries({ north_is, division_arcsec, field_arcmin, tube_side }).filter(([, v]) => v),
  );
  keep();
  form(data, true);
}
