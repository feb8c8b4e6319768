// What did we see, what drifted? Evenings on a rule of dates; an evening on a rule of its hours.

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
  now,
  onBack,
  onKit,
  onLead,
  onSettings,
  page,
  put,
  start,
} from "../shared/page.js";
import { ask, latest, onRefused, post, send, takeRefused } from "../shared/link.js";
import { FAINT, INK, line, sheet, words } from "../shared/pen.js";
import { timeline } from "../shared/timeline.js";
import * as say from "../words/logbook.js";
import { capital } from "../shared/words.js";

const SKY = ["seeing_arcsec", "naked_eye_limit_mag", "sky_brightness_mag_arcsec2"];
const LARGEST = 64000000,
  LARGEST_PART = 590000;
const state = { note: "", sky: {}, waiting: [], ...(draft.read("logbook") ?? {}) };
let data = null,
  whole = null,
  open = Number(new URLSearchParams(location.search).get("evening")) || 0;
const keep = () => draft.write("logbook", state);
const newUid = () =>
  Array.from(crypto.getRandomValues(new Uint8Array(8)), (b) => b.toString(16).padStart(2, "0")).join("");

const fetchBook = latest((signal) => ask("logbook", { at: now().toISOString() }, signal), 40);
async function update() {
  try {
    data = await fetchBook();
    whole = open
      ? await ask(`logbook/evening/${open}`).catch((error) => {
          if (error.status === 422) {
            open = 0;
            return null;
          }
          throw error;
        })
      : null;
    const known = new Set((whole?.entries ?? []).map((e) => e.uid));
    state.waiting = state.waiting.filter((w) => !known.has(w.uid));
    keep();
    fine();
    show();
  } catch (error) {
    failed(error);
  }
}
const line_ = () => data.evenings.find((e) => e.id === open) ?? null;
const tonight = () => data.evenings.find((e) => e.id === data.tonight) ?? null;

function show() {
  const own = line_();
  $("#all-evenings").hidden = !own;
  $("#evenings-box").hidden = Boolean(own);
  put("#note-label", say.noteFor(own, Boolean(tonight())));
  if (own && whole) evening(own);
  else evenings();
  list(
    "#evenings",
    data.evenings.map((e) => [
      make(
        "button",
        { type: "button", class: "stop", onclick: () => go(e.id) },
        make("strong", {}, say.day(e.date)),
        make("span", { class: "under" }, say.lineOf(e)),
      ),
    ]),
  );
  if (!data.evenings.length) put("#evenings", make("li", {}, say.NONE_YET));
  const bolts = Object.entries(data.bolts);
  list(
    "#bolts",
    bolts.length
      ? bolts.map(([name, b]) => [make("strong", {}, say.turnsADegree(b)), say.boltOf(name, b)])
      : [say.NO_BOLTS],
  );
  for (const a of $$("#carry a")) a.hidden = !page.leads || !data.evenings.length;
  if (data.note) put("#said", data.note);
}

function evenings() {
  const all = data.evenings,
    shown = all.reduce((n, e) => n + e.done, 0);
  put("#when", all.length ? say.since(all[all.length - 1].date) : "");
  put("#answer", all.length ? say.evenings(all.length) : say.EMPTY);
  put("#because", all.length ? say.shown(shown, all[0].date) : say.EMPTY_BECAUSE);
  drawEvenings();
}
// A tooth for each evening, as tall as the number of objects shown.
function drawEvenings() {
  const all = data.evenings.slice().reverse();
  if (!all.length) {
    put("#drawing");
    return;
  }
  const W = 640,
    LEFT = 24,
    RIGHT = 616,
    BASE = 190,
    at = (iso) => Date.parse(`${iso}T12:00:00Z`);
  const first = new Date(at(all[0].date)),
    last = new Date(at(all[all.length - 1].date));
  const from = Date.UTC(first.getUTCFullYear(), first.getUTCMonth(), 1),
    to = Date.UTC(last.getUTCFullYear(), last.getUTCMonth() + 1, 1);
  const x = (t) => LEFT + ((t - from) / (to - from)) * (RIGHT - LEFT),
    most = Math.max(...all.map((e) => e.done), 1);
  const svg = sheet(W, 262, say.sheet(all.length, all[0].date, all[all.length - 1].date));
  svg.append(line(LEFT, BASE, RIGHT, BASE, INK, 1.8));
  const months = (to - from) / 86400000 / 30.4,
    every = months <= 8 ? 1 : months <= 24 ? 3 : 12;
  let dated = false;
  for (let m = 0, t = from; t <= to; m += 1, t = Date.UTC(first.getUTCFullYear(), first.getUTCMonth() + m, 1)) {
    const month = new Date(t).getUTCMonth(),
      long = month % every === 0;
    svg.append(line(x(t), BASE, x(t), BASE + (long ? 16 : 9), INK, long ? 1.8 : 1));
    if (long && t < to)
      svg.append(words(x(t) + 4, BASE + 38, say.month(t, month === 0 || !dated), 19, { "text-anchor": "start" }));
    dated ||= long;
  }
  for (const e of all) svg.append(line(x(at(e.date)), BASE, x(at(e.date)), BASE - 8 - (e.done / most) * 140, INK, 4));
  svg.append(
    words(LEFT, BASE + 66, say.legend(most), 18, { "text-anchor": "start", fill: FAINT, "font-style": "italic" }),
  );
  put("#drawing", svg);
}

const PROSE = ["note", "conditions"];
function row(e) {
  return {
    ...say.entry(e),
    ...(e.kind === "stop" ? { state: e.state === "done" ? "" : "skipped" } : {}),
    ...(PROSE.includes(e.kind) ? { prose: true } : {}),
  };
}
function evening(own) {
  const entries = [...whole.entries, ...state.waiting.filter((w) => w.evening === open)];
  put("#when", own.site);
  put("#answer", say.day(own.date));
  const axis = entries.filter((e) => e.kind === "axis_measure");
  put("#because", say.countsOf(own), say.axisOf(axis), say.planned(whole.planned.length, own.kit_name));
  const rule = timeline({
    zone: page.zone,
    canMove: false,
    onmove() {},
    onchoose: (key) => take(entries.find((e) => e.uid === key)),
    rows: entries.map((e) => ({ key: e.uid, from: Date.parse(e.at), to: Date.parse(e.at), ...row(e) })),
  });
  if (!entries.length) put("#drawing", make("p", { class: "faint" }, say.EMPTY_PAGE));
  else {
    put("#drawing", rule.element, page.leads ? make("p", { class: "faint" }, say.PRESS) : null);
    rule.settle();
  }
}
function take(entry) {
  if (!page.leads || !entry || !["stop", "note", "conditions"].includes(entry.kind)) return;
  const question = make(
    "div",
    { class: "asked", role: "alert" },
    make("p", {}, say.takeOut(row(entry).title.slice(0, 80))),
    make(
      "div",
      { class: "wraps" },
      make(
        "button",
        {
          type: "button",
          class: "act",
          onclick: async () => {
            try {
              await post("/logbook/take-back", { at: now().toISOString(), evening: open, uid: entry.uid });
              put("#said", say.TAKEN);
              await update();
            } catch (error) {
              failed(error);
            }
          },
        },
        say.TAKE,
      ),
      make("button", { type: "button", class: "plainly", onclick: () => question.remove() }, say.LEAVE),
    ),
  );
  $(".asked")?.remove();
  $("#drawing").prepend(question);
  question.scrollIntoView({ block: "nearest" });
  $(".plainly", question).focus();
}
function go(id) {
  open = id;
  put("#found");
  void update().then(() => {
    scrollTo({ top: 0 });
    $("#main").focus({ preventScroll: true });
  });
}
$("#all-evenings").addEventListener("click", () => go(0));

// Writing down: kept in the page until the machine has it on its disk.
async function write(path, given, entry) {
  const uid = newUid(),
    at = now().toISOString(),
    evening_ = open;
  state.waiting.push({ ...entry, uid, at, evening: evening_ });
  keep();
  const reply = await busy(send("POST", path, { at, uid, evening: evening_, ...given }), say.WRITING);
  put("#said", reply ? say.WRITTEN : say.KEPT);
  if (reply) {
    state.waiting = state.waiting.filter((w) => w.uid !== uid);
    keep();
    if (!open) open = reply.evening;
  }
  return reply;
}
const unwait = () => {
  state.waiting.pop();
  keep();
};
const textarea = $("#note-text");
textarea.value = state.note;
textarea.addEventListener("input", () => {
  state.note = textarea.value;
  keep();
  $("#note-problem").hidden = true;
});
$("#note").addEventListener("submit", async (event) => {
  event.preventDefault();
  const text = textarea.value.trim();
  if (!text) {
    put("#note-problem", say.NOTHING).hidden = false;
    textarea.focus();
    return;
  }
  try {
    await write("/logbook/note", { text }, { kind: "note", text });
    textarea.value = state.note = "";
    keep();
    await update();
  } catch (error) {
    unwait();
    if (error.status === 422) put("#note-problem", capital(error.message)).hidden = false;
    else failed(error);
  }
});
$("#sky-open").addEventListener("click", () => {
  const form = $("#sky");
  form.hidden = !form.hidden;
  $("#sky-open").setAttribute("aria-expanded", String(!form.hidden));
  if (!form.hidden) $("input", form).focus();
});
for (const id of [...SKY, "words"]) {
  $(`#${id}`).value = state.sky[id] ?? "";
  $(`#${id}`).addEventListener("input", (event) => {
    state.sky[id] = event.target.value;
    keep();
    $(`#${id}-problem`).hidden = true;
    event.target.setAttribute("aria-invalid", "false");
    $("#sky-problem").hidden = true;
  });
}
if (Object.values(state.sky).some(Boolean)) {
  $("#sky").hidden = false;
  $("#sky-open").setAttribute("aria-expanded", "true");
}
function wrong(id, words_) {
  const p = $(`#${id}-problem`);
  put(p ?? "#sky-problem", words_);
  (p ?? $("#sky-problem")).hidden = false;
  $(`#${id}`)?.setAttribute("aria-invalid", "true");
  $(`#${id}`)?.focus();
}
$("#sky").addEventListener("submit", async (event) => {
  event.preventDefault();
  const given = { words: $("#words").value.trim() };
  for (const id of SKY) {
    const text = $(`#${id}`).value.trim().replace(",", ".").replace("−", "-");
    if (!text) continue;
    if (!Number.isFinite(Number(text))) {
      wrong(id, say.notANumber(text));
      return;
    }
    given[id] = Number(text);
  }
  try {
    await write("/logbook/sky", given, {
      kind: "conditions",
      seeing_arcsec: null,
      naked_eye_limit_mag: null,
      sky_brightness_mag_arcsec2: null,
      ...given,
    });
    state.sky = {};
    keep();
    for (const id of [...SKY, "words"]) $(`#${id}`).value = "";
    $("#sky").hidden = true;
    $("#sky-open").setAttribute("aria-expanded", "false");
    await update();
  } catch (error) {
    unwait();
    if (error.status === 422) wrong(error.field || "sky", capital(error.message));
    else failed(error);
  }
});

// Search.
const find = latest((signal, q) => ask("logbook/search", { q }, signal), 200);
async function search() {
  const q = $("#q").value.trim();
  if (!q) {
    put("#found");
    return;
  }
  try {
    const { found, more } = await find(q);
    put(
      "#found",
      make("h2", {}, say.found(found.length, more)),
      make(
        "ul",
        { class: "rows" },
        ...found.map((f) =>
          make(
            "li",
            {},
            make(
              "button",
              { type: "button", class: "stop", onclick: () => go(f.evening) },
              make("strong", {}, f.text),
              make("span", { class: "under" }, say.foundIn(f)),
            ),
          ),
        ),
      ),
    );
  } catch (error) {
    failed(error);
  }
}
$("#q").addEventListener("input", search);
$("#search").addEventListener("submit", (event) => {
  event.preventDefault();
  void search();
});

// A file is read in evening by evening: each is small, and one that is there already adds nothing.
$("#bring").addEventListener("change", async (event) => {
  const file = event.target.files[0],
    bar = $("#bring-bar"),
    refuse = (words_) => {
      put("#bring-problem", words_).hidden = false;
      bar.hidden = true;
    };
  $("#bring-problem").hidden = true;
  put("#bring-said");
  if (!file) return;
  event.target.value = "";
  if (file.size > LARGEST) {
    refuse(say.tooLarge(file.name, LARGEST));
    return;
  }
  let book = null;
  try {
    book = JSON.parse(await file.text());
  } catch {
    /* told below */
  }
  if (book?.format !== "axletree logbook" || !Array.isArray(book.evenings)) {
    refuse(say.notOurs(file.name));
    return;
  }
  bar.hidden = false;
  let added = 0;
  for (const [i, evening_] of book.evenings.entries()) {
    const part = { ...book, evenings: [evening_] },
      done = Math.round(((i + 1) / book.evenings.length) * 100);
    try {
      if (new Blob([JSON.stringify(part)]).size > LARGEST_PART) throw new Error(say.TOO_LARGE_PART);
      added += (await post("/logbook/import", { at: now().toISOString(), export: part })).added;
    } catch (error) {
      refuse(say.refusedPart(i, book.evenings.length, i + 1, error.message));
      await update();
      return;
    }
    bar.setAttribute("aria-valuenow", done);
    $("i", bar).style.width = `${done}%`;
  }
  bar.hidden = true;
  put("#bring-said", say.added(added, book.evenings.length));
  await update();
});
onSettings(() => data && void update());
onLead(() => data && show());
onKit(update);
onBack(update);
// What was kept and then refused comes back into its fields.
function reopened() {
  for (const { path, body, problem } of takeRefused("/logbook/")) {
    state.waiting = state.waiting.filter((w) => w.uid !== body.uid);
    if (path === "/logbook/note") {
      state.note = [body.text, state.note].filter(Boolean).join("\n");
      textarea.value = state.note;
    }
    if (path === "/logbook/sky") {
      for (const id of [...SKY, "words"]) {
        state.sky[id] ||= String(body[id] ?? "");
        $(`#${id}`).value = state.sky[id];
      }
      $("#sky").hidden = false;
      $("#sky-open").setAttribute("aria-expanded", "true");
    }
    notice("kept", say.notWritten(problem));
    keep();
  }
  if (data) show();
}
onRefused(reopened);
reopened();
start();
busy(update(), say.OPENING);
