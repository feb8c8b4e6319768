// What did we see, what drifted? Evenings on a rule of dates; an evening on a rule of its hours.

import {
  $,
  $$,
  busy,
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
} from "../shared/page.js";
import { ask, latest, post } from "../shared/link.js";
import { timeline } from "../shared/timeline.js";
import { day } from "../shared/words.js";
import * as say from "../words/logbook.js";
import { bringing } from "./logbook_bring.js";
import { drawEvenings } from "./logbook_dates.js";
import { makeGaps, showGaps } from "./logbook_gap.js";
import { makeMoved, showMoved } from "./logbook_moved.js";
import { makeWriting } from "./logbook_write.js";

let data = null,
  whole = null,
  open = Number(new URLSearchParams(location.search).get("evening")) || 0;

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
    writing.arrived(known);
    await Promise.all([showMoved(), showGaps()]);
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
        make("strong", {}, day(e.date)),
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
  $("#drawing").hidden = !all.length;
  drawEvenings(all);
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
  const entries = [...whole.entries, ...writing.waiting(open)];
  put("#when", own.site);
  put("#answer", day(own.date));
  const axis = entries.filter((e) => e.kind === "axis_measure");
  put("#because", say.countsOf(own), say.axisOf(axis), say.planned(whole.planned.length, own.kit_name));
  const rule = timeline({
    zone: page.zone,
    canMove: false,
    onmove() {},
    onchoose: (key) => take(entries.find((e) => e.uid === key)),
    rows: entries.map((e) => ({ key: e.uid, from: Date.parse(e.at), to: Date.parse(e.at), ...row(e) })),
  });
  $("#drawing").hidden = false;
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
const writing = makeWriting({
  update,
  shown: () => data && show(),
  opened: () => open,
  opens(evening_) {
    open = evening_;
  },
});
bringing(update);
makeMoved();
makeGaps();
onSettings(() => data && void update());
onLead(() => data && show());
onKit(update);
onBack(update);
start(busy(update(), say.OPENING));
