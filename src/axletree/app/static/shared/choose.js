// Which object? One chooser for every page that needs one: typed with suggestions, or tapped from
// what is up now. What is chosen is shared by the pages.

import * as say from "../words/shared.js";
import { $, failed, make, now, onLead, page, put, set, settingsOf } from "./page.js";
import { ask, latest } from "./link.js";
import { compassPoint, degrees } from "./words.js";

const NAME = "point"; // the page whose settings hold the choice
export const chosenObject = () => settingsOf(NAME).object ?? "";

// Whoever opens the address again finds the same choices; those that are empty don't stand in it.
/** @type {(choices: Record<string, string>) => void} */
export function inAddress(choices) {
  const address = new URLSearchParams(location.search);
  for (const [key, value] of Object.entries(choices))
    if (value) address.set(key, value);
    else address.delete(key);
  const tail = address.toString();
  history.replaceState(null, "", location.pathname + (tail ? `?${tail}` : ""));
}

// Who leads and opens an address that names an object begins with that, whatever was chosen before.
/** @type {() => boolean} */
export const addressChooses = () => page.leads && new URLSearchParams(location.search).has("object");

// Fills `#chooser`; `chosen(name)` is called when the person chooses, and what is known of a name stands in `known` or
// `fail`: only a name that was answered is shared. Gives { show, known, fail, begin, opens }.
export function chooser(chosen) {
  const box = $("#chooser");
  const input = make("input", {
    id: "object",
    type: "text",
    role: "combobox",
    autocomplete: "off",
    spellcheck: "false",
    maxlength: "80",
    placeholder: say.SOME_OBJECTS,
    "aria-expanded": "false",
    "aria-controls": "names",
    "aria-autocomplete": "list",
    "aria-describedby": "object-problem",
  });
  const names = make("ul", { id: "names", role: "listbox", "aria-label": say.NAMES, hidden: true });
  const problem = make("p", { class: "problem", id: "object-problem", hidden: true });
  const up = make("div", { class: "up", id: "up" });
  put(box, make("label", { for: "object" }, say.OBJECT), make("div", { class: "combo" }, input, names), problem, up);
  let shown = [],
    at = -1,
    taken = "",
    unanswered = "";

  const suggest = latest((signal) => ask("names", { q: input.value }, signal), 80);
  const close = () => {
    names.hidden = true;
    input.setAttribute("aria-expanded", "false");
    at = -1;
    input.removeAttribute("aria-activedescendant");
  };
  function list() {
    put(
      names,
      ...shown.map((name, i) =>
        make(
          "li",
          {
            role: "option",
            id: `name-${i}`,
            "aria-selected": String(i === at),
            onpointerdown: (event) => {
              event.preventDefault();
              take(name);
            },
          },
          name,
        ),
      ),
    );
    names.hidden = shown.length === 0;
    input.setAttribute("aria-expanded", String(shown.length > 0));
    if (at >= 0) input.setAttribute("aria-activedescendant", `name-${at}`);
    else input.removeAttribute("aria-activedescendant");
  }
  function take(name) {
    input.value = name;
    taken = name;
    close();
    fail("");
    unanswered = name;
    chosen(name);
  }
  function known() {
    if (unanswered) set({ object: unanswered }, NAME);
    unanswered = "";
    fail("");
  }
  function fail(words) {
    if (words) unanswered = "";
    put(problem, words);
    problem.hidden = !words;
    input.setAttribute("aria-invalid", String(Boolean(words)));
  }
  input.addEventListener("input", async () => {
    try {
      shown = input.value.trim() ? (await suggest()).names : [];
      at = -1;
      // Names that come after the choice was made open no list over the page.
      if (document.activeElement === input && input.value !== taken) list();
    } catch (error) {
      if (error.status) failed(error);
    }
  });
  input.addEventListener("keydown", (event) => {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      if (!shown.length) return;
      event.preventDefault();
      at = (at + (event.key === "ArrowDown" ? 1 : -1) + shown.length) % shown.length;
      list();
    } else if (event.key === "Enter") {
      event.preventDefault();
      if (at >= 0) take(shown[at]);
      else if (input.value.trim()) take(input.value.trim());
    } else if (event.key === "Escape") close();
  });
  input.addEventListener("blur", () => setTimeout(close, 120));
  input.addEventListener("change", () => {
    if (input.value.trim() && input.value.trim() !== chosenObject()) take(input.value.trim());
  });
  onLead((leads) => {
    input.disabled = !leads;
    for (const b of up.querySelectorAll("button")) b.disabled = !leads;
  });
  async function refresh() {
    try {
      const found = await ask("point/up", { at: now().toISOString() });
      put(
        up,
        found.up.length ? make("p", { class: "faint" }, say.UP_NOW) : make("p", { class: "faint" }, say.NOTHING_UP),
        ...found.up.map((o) =>
          make(
            "button",
            { type: "button", class: "wordy", disabled: !page.leads, onclick: () => take(o.name) },
            o.kind === "double star" || !o.called ? o.name : o.called,
            make("span", { class: "apart" }, say.highIn(degrees(o.altitude_deg, 0), compassPoint(o.azimuth_deg))),
          ),
        ),
      );
      return found.up;
    } catch (error) {
      failed(error);
      return [];
    }
  }
  const show = (name) => {
    if (document.activeElement !== input) input.value = name;
  };
  // How a page begins: with what it was given or what is chosen; else with what is up and bright, so that it shows
  // what it can do.
  async function begin(object) {
    const up = await refresh(),
      first = object || chosenObject() || up[0]?.name || "";
    show(first);
    if (!first) put("#answer", say.CHOOSE);
    return first;
  }
  // The same, and `then` asks for what the page begins with.
  const opens = (object, then) => begin(object).then(then).catch(failed);
  return { show, known, fail, begin, opens };
}
