// What do all pages do? Light, list of the job, link, lead, the clock's tick, and drafts.

import * as words from "../words/shared.js";
import { $, $$, list, make, put, radios, unbroken, unfolds } from "./elements.js";
import { holdPage, holdsPages } from "./kept.js";
import { light, onLight } from "./light.js";
import { givesTo, peopleRows } from "./lead.js";
import { onPutBack, watchClock } from "./put_back.js";
import { watchDrawings } from "./readable.js";
import { duration } from "./words.js";
import { beginsAnew } from "./anew.js";
import { Away, flush, isLinked, listen, onceAnswered, onLink, Problem, send, ask, Superseded } from "./link.js";

export { $, $$, light, list, make, onLight, put, radios, unbroken, unfolds };

const body = document.body;
export const page = {
  name: body.dataset.page,
  zone: body.dataset.zone,
  units: body.dataset.units,
  leads: body.dataset.leads === "yes",
};

// The same as put() for words that run with the clock: nothing is touched, or read out, while they stay.
const said = new WeakMap();
/** @type {(target: string | Element, ...children: any[]) => any} */
export function say(target, ...children) {
  const element = typeof target === "string" ? $(target) : target,
    key = children.map((c) => c?.outerHTML ?? c ?? "").join("|");
  if (said.get(element) !== key) {
    said.set(element, key);
    put(element, ...children);
  }
  return element;
}

// The list of the job, on a phone.
const job = $("#job"),
  all = $("#all");
all?.addEventListener("click", () => all.setAttribute("aria-expanded", String(job.classList.toggle("open"))));
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && job?.classList.contains("open")) {
    all.click();
    all.focus();
  }
});
if (page.name !== "start") localStorage.setItem("axletree-last", page.name);

// What the page has to say about itself: link, lead, things that failed.
const notices = new Map();
/** @type {(key: string, sentence: string, ...more: any[]) => void} */
export function notice(key, sentence, ...more) {
  if (sentence) notices.set(key, [sentence, ...more]);
  else notices.delete(key);
  const box = $("#notice");
  box.hidden = notices.size === 0;
  put(box, ...[...notices.values()].flatMap((parts, i) => (i ? [make("br"), ...parts] : parts)));
}
export const failed = (error) => {
  if (error instanceof Superseded) return;
  if (error instanceof Problem) notice("failed", error instanceof Away ? "" : error.message);
  else {
    notice("failed", words.TRIPPED);
    console.error(error);
  }
};
export const fine = () => notice("failed", "");
// What was asked for is given to `take`; what goes wrong is noticed.
/** @type {(asked: () => Promise<any>, take: (found: any) => void) => Promise<void>} */
export async function asking(asked, take) {
  try {
    const found = await asked();
    fine();
    take(found);
  } catch (error) {
    failed(error);
  }
}
let wasLinked = true;
onLink((linked, waiting, from, empty) => {
  const old = words.answeredAt(from, Date.now(), page.zone);
  if (linked) notice("link", `${waiting ? words.sending(waiting) : ""}${old}`);
  else notice("link", words.away({ waiting, old, empty, opens: holdsPages() }));
  const anew = beginsAnew(linked);
  if (linked && !wasLinked) {
    fine();
    if (!anew) for (const fn of backWatchers) fn();
  }
  wasLinked = linked;
});
const backWatchers = new Set();
export const onBack = (fn) => backWatchers.add(fn);
setInterval(() => {
  if (!isLinked() && !document.hidden) void probe();
}, 4000);
const probe = async () => {
  try {
    await ask("here");
    await flush();
  } catch {
    /* still away */
  }
};

let working = 0; // pieces of work that are under way

// A line that shows work which takes more than a moment.
/**
 * @template T
 * @param {Promise<T>} work
 * @param {string} [label]
 * @param {Element} [at]
 * @returns {Promise<T>}
 */
export async function busy(work, label = words.WORKING, at = $("#notice")) {
  const line = make("div", { class: "busy", role: "progressbar", "aria-label": label });
  const timer = setTimeout(() => at.after(line), 350);
  working += 1;
  $("#answer")?.setAttribute("aria-busy", "true");
  try {
    return await work;
  } finally {
    clearTimeout(timer);
    line.remove();
    working -= 1;
    if (!working) $("#answer")?.removeAttribute("aria-busy");
  }
}

// Settings that everybody who looks on shares; only the leader changes them.
const settingWatchers = new Set();
let shared = null;
export const onSettings = (fn) => {
  settingWatchers.add(fn);
  if (shared) fn(shared);
};
export const settingsOf = (name) => allSettings[name] ?? {};
const allSettings = {};
export function set(values, name = page.name) {
  allSettings[name] = { ...(allSettings[name] ?? {}), ...values };
  if (name === page.name) shared = allSettings[name];
  if (!page.leads) return;
  send("PUT", `/settings/${name}`, values, `settings-${name}-${Object.keys(values).join()}`).catch(failed);
}

// The lead.
const leadWatchers = new Set();
export const onLead = (fn) => {
  leadWatchers.add(fn);
  fn(page.leads);
};
let me = Number(body.dataset.number);
async function showLead(now) {
  page.leads = now.leader_number === me;
  body.dataset.leads = page.leads ? "yes" : "no";
  for (const part of $$("fieldset[data-lead], button[data-lead]")) part.disabled = !page.leads;
  for (const fn of leadWatchers) fn(page.leads);
  const others = now.people.filter((p) => p.number !== me);
  put("#people", ...(await peopleRows({ now, others, leads: page.leads, failed })));
  // On the board there is nothing to change, whoever leads.
  notice("lead", page.leads || page.name === "board" ? "" : words.lookingOnly(now.leader));
  tellWhoAsks(page.leads ? others.filter((o) => o.asks) : []);
}

// Whoever asks for the lead is seen on the page that is open, not only in the list of the job.
function tellWhoAsks(asking) {
  const buttons = asking.flatMap((p) => [" ", givesTo(p, "wordy", words.giveTo(p.name), failed)]);
  notice("asks", asking.length ? words.asks(asking.map((p) => p.name)) : "", ...buttons);
}
// Changes made elsewhere.
const kitWatchers = new Set();
export const onKit = (fn) => kitWatchers.add(fn);
let revision = 0;
let greeted = false;
// What stands on the page can be pressed once its first answer is shown, or what was typed before is refused.
export function start(first = Promise.resolve()) {
  void first.finally(() => onceAnswered(() => ($("#waits").inert = false)));
  watchDrawings(body);
  holdPage();
  for (const part of $$("fieldset[data-lead], button[data-lead]")) part.disabled = !page.leads;
  listen({
    hello(now) {
      me = now.you;
      Object.assign(allSettings, now.settings);
      shared = allSettings[page.name] ?? {};
      // A page that has just opened has asked already; where nothing is set it need not ask again.
      if (greeted || Object.values(now.settings).some((values) => Object.keys(values).length))
        for (const fn of settingWatchers) fn(shared);
      greeted = true;
      page.zone = now.zone;
      if (revision && now.revision !== revision) for (const fn of kitWatchers) fn(now.revision);
      revision = now.revision;
      void showLead(now);
    },
    settings(now) {
      allSettings[now.page] = now.values;
      if (now.page !== page.name) return;
      shared = now.values;
      if (Number(now.by) !== me) for (const fn of settingWatchers) fn(shared);
    },
    kit(now) {
      if (now.revision !== revision) {
        revision = now.revision;
        page.zone = now.zone;
        for (const fn of kitWatchers) fn(revision);
      }
    },
    lead(now) {
      void showLead(now);
    },
  });
}

// Another moment may be looked at (?at=2026-12-05T20:30Z in the address); it runs on from there.
const asked = Date.parse(new URLSearchParams(location.search).get("at") ?? "");
const shift = Number.isNaN(asked) ? 0 : asked - Date.now();
/** @type {() => Date} */
export const now = () => new Date(Date.now() + shift);
if (shift)
  notice("time", words.asIfItWere(now(), page.zone), make("a", { href: location.pathname }, words.BACK_TO_NOW));

onPutBack((byMs) => notice("clock", words.putBack(duration(-byMs / 1000))));

// The real clock; nothing runs while nobody looks.
/** @type {(fn: (now: Date) => void, everyMs?: number) => void} */
export function tick(fn, everyMs = 1000) {
  let timer = 0;
  const run = () => {
    watchClock();
    fn(now());
    timer = setTimeout(run, everyMs - (Date.now() % everyMs) + 5);
  };
  const see = () => {
    clearTimeout(timer);
    if (!document.hidden) run();
  };
  document.addEventListener("visibilitychange", see);
  see();
}

// What is typed outlives a reload and a lost link, until it is kept.
export const draft = {
  read: (key) => {
    try {
      return JSON.parse(sessionStorage.getItem(`axletree-draft-${key}`));
    } catch {
      return null;
    }
  },
  write: (key, value) => sessionStorage.setItem(`axletree-draft-${key}`, JSON.stringify(value)),
  clear: (key) => sessionStorage.removeItem(`axletree-draft-${key}`),
};
export const still = matchMedia("(prefers-reduced-motion: reduce)");
