// How does a page talk to the machine that runs the app, and what if the link drops?
// ask() reads. send() changes: what can't be sent now is kept in this page (it outlives a reload)
// and sent when the link returns. listen() hears of changes made elsewhere.

import * as words from "../words/shared.js";
import { forgetAll, keepAnswer, keptAnswer, placeOf } from "./kept.js";

export class Problem extends Error {
  /** @param {string} message @param {string} [field] the entry that is wrong @param {number} [status] */
  constructor(message, field = "", status = 0) {
    super(message);
    this.field = field;
    this.status = status;
  }
}
// There is no answer since there is no link: the page goes on without one.
export class Away extends Problem {
  constructor() {
    super(words.AWAY);
  }
}
const KEPT = "axletree-unsent";
const watchers = new Set(),
  seen = new Set(); // places of what was answered on this page, of now or kept
let linked = true,
  missed = false; // something was asked without a link, and nothing was kept of it
// Whether the page stands there without anything that it asked for.
export const standsEmpty = () => missed && seen.size === 0;

// What waits for the first answer of the page, or for what was typed before to be refused.
const waitingForOne = new Set();
let hasOne = false;
/** @type {(fn: () => void) => void} */
export const onceAnswered = (fn) => void (hasOne ? fn() : waitingForOne.add(fn));
function answeredNow() {
  hasOne = true;
  for (const fn of waitingForOne) fn();
  waitingForOne.clear();
}

export const onLink = (fn) => {
  watchers.add(fn);
  fn(linked, unsent().length, from, seen.size === 0);
};
const say = (now) => {
  linked = now;
  for (const fn of watchers) fn(linked, unsent().length, from, seen.size === 0);
};
// From when is the oldest answer on the page that was kept, not asked for? 0: all are of now.
let from = 0;
export const isLinked = () => linked;

/** @type {(method: string, path: string, body?: any, signal?: AbortSignal) => Promise<any>} */
async function call(method, path, body, signal) {
  let reply;
  try {
    reply = await fetch(path, {
      method,
      signal,
      cache: "no-store",
      credentials: "same-origin",
      headers: body === undefined || body instanceof Blob ? {} : { "Content-Type": "application/json" },
      body: body === undefined || body instanceof Blob ? body : JSON.stringify(body),
    });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    say(false);
    throw new Away();
  }
  if (!linked) say(true);
  const data = await reply.json().catch(() => ({ problem: words.UNREADABLE }));
  if (!reply.ok) throw new Problem(data.problem || words.DID_NOT_WORK, data.field || "", reply.status);
  return data;
}

/** @type {(path: string, given?: Record<string, any>, signal?: AbortSignal) => Promise<any>} */
export function ask(path, given = {}, signal) {
  const query = new URLSearchParams();
  for (const [k, v] of Object.entries(given)) if (v !== undefined && v !== null && v !== "") query.set(k, v);
  const tail = query.toString();
  return asked(path, given, call("GET", `/answer/${path}${tail ? `?${tail}` : ""}`, undefined, signal));
}
// What has never been answered on this page may stand there as it was answered before, once: it says from when, and
// nothing newer gives way to it.
async function asked(path, given, answer) {
  const key = placeOf(path, given);
  try {
    const data = await answer;
    if (path !== "here") {
      seen.add(key);
      answeredNow();
    }
    if (from && path !== "here") {
      from = 0;
      say(linked);
    }
    if (!path.startsWith("evening")) void keepAnswer(path, given, data);
    return data;
  } catch (error) {
    if (error.status === 403) forgetAll();
    if (error.status === 422) answeredNow();
    const kept = error instanceof Away && !seen.has(key) ? await keptAnswer(path, given) : null;
    if (!kept) {
      if (error instanceof Away && path !== "here") {
        missed = true;
        say(false);
      }
      throw error;
    }
    seen.add(key);
    answeredNow();
    from = from ? Math.min(from, kept.at) : kept.at;
    say(false);
    return kept.data;
  }
}
/** @type {(path: string, body?: any, signal?: AbortSignal) => Promise<any>} */
export const post = (path, body, signal) => call("POST", path, body, signal);

// A file as it is, with what is said of it in the address.
/** @type {(path: string, given: Record<string, any>, file: Blob) => Promise<any>} */
export const bring = (path, given, file) => {
  const query = new URLSearchParams();
  for (const [k, v] of Object.entries(given)) if (v !== undefined && v !== null && v !== "") query.set(k, v);
  return call("PUT", `${path}?${query}`, file);
};

// Of several questions asked quickly, only the last one's answer counts.
export class Superseded extends Error {}
/** @type {(work: (signal: AbortSignal, ...given: any[]) => Promise<any>, delayMs?: number) => (...given: any[]) => Promise<any>} */
export function latest(work, delayMs = 0) {
  let control = null,
    timer = 0,
    drop = null;
  return (...given) =>
    new Promise((resolve, reject) => {
      clearTimeout(timer);
      drop?.(new Superseded());
      drop = reject;
      timer = setTimeout(async () => {
        control?.abort();
        const mine = new AbortController();
        control = mine;
        try {
          resolve(await work(mine.signal, ...given));
        } catch (error) {
          reject(mine.signal.aborted ? new Superseded() : error);
        }
      }, delayMs);
    });
}

function unsent() {
  try {
    return JSON.parse(localStorage.getItem(KEPT) || "[]");
  } catch {
    return [];
  }
}
function keep(list) {
  localStorage.setItem(KEPT, JSON.stringify(list));
}
let sending = null;

// A later send with the same key takes the place of an earlier one that has not gone out yet.
// Gives the reply, or null while the link is down; a refusal is thrown.
/** @type {(method: string, path: string, body?: any, key?: string) => Promise<any>} */
export async function send(method, path, body, key = "") {
  if (linked && !unsent().length) {
    try {
      return await call(method, path, body);
    } catch (error) {
      if (error.status) throw error;
    }
  }
  const list = unsent().filter((item) => !key || item.key !== key);
  keep([...list, { method, path, body, key }]);
  say(linked);
  void flush();
  return null;
}

// What was kept and then refused (somebody else leads by now) is not lost: the page that it was
// typed on takes it back and says so.
const REFUSED = "axletree-refused",
  refusers = new Set();
export const onRefused = (fn) => refusers.add(fn);
const refused = () => {
  try {
    return JSON.parse(localStorage.getItem(REFUSED) || "[]");
  } catch {
    return [];
  }
};
/** @type {(start: string) => any[]} */
export function takeRefused(start) {
  const mine = refused().filter((item) => item.path.startsWith(start));
  if (mine.length)
    localStorage.setItem(REFUSED, JSON.stringify(refused().filter((item) => !item.path.startsWith(start))));
  return mine;
}
function refuse(item, problem) {
  if (item.path.startsWith("/settings/")) return; // only what was looked at
  localStorage.setItem(REFUSED, JSON.stringify([...refused(), { ...item, problem }]));
  for (const fn of refusers) fn();
}

async function drain() {
  for (;;) {
    const [first] = unsent();
    if (!first) return;
    // A refusal is told where it was typed; keeping it would stop everything behind it.
    try {
      await call(first.method, first.path, first.body);
    } catch (error) {
      if (!error.status) return;
      refuse(first, error.message);
    }
    keep(unsent().filter((item) => JSON.stringify(item) !== JSON.stringify(first)));
    say(linked);
  }
}
/** @type {() => Promise<void>} */
export function flush() {
  sending ??= drain().finally(() => {
    sending = null;
  });
  return sending;
}

/** @type {(listeners: Record<string, (data: any) => void>) => void} */
export function listen(listeners) {
  let source = null,
    retry = 0;
  const open = () => {
    clearTimeout(retry);
    if (document.hidden) return;
    source?.close();
    source = new EventSource("/events");
    source.onopen = () => {
      say(true);
      void flush();
    };
    source.onerror = () => {
      if (linked) say(false);
      if (source.readyState === 2) {
        retry = setTimeout(open, 3000);
      }
    };
    for (const [word, fn] of Object.entries(listeners))
      source.addEventListener(word, (event) => fn(JSON.parse(event.data)));
  };
  const shut = () => {
    source?.close();
    source = null;
    clearTimeout(retry);
  };
  document.addEventListener("visibilitychange", () => (document.hidden ? shut() : open()));
  window.addEventListener("online", open);
  window.addEventListener("offline", () => say(false));
  window.addEventListener("pagehide", shut);
  window.addEventListener("pageshow", (event) => event.persisted && open());
  open();
}
