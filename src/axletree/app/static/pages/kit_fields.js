// Which groups and fields has a kit, and what stands in each: given, guessed, or wrong?

import { $, $$, make, page, put } from "../shared/page.js";
import * as say from "../words/kit.js";
import { showPlate } from "./kit_plate.js";

let data = null,
  group = "",
  open = (_path) => {},
  edit = (_path, _value, _what = "set") => {},
  waits = (_field) => false;

// `open` turns to another group, `edit` changes a key, `waits` says whether a change of a field has
// not been checked yet.
export function showKit(answer, given) {
  data = answer;
  ({ group, open, edit, waits } = given);
  showGroups();
  showFields();
  measures();
}

// A part of the rig is tapped in its drawing; what has no part there stands as words beside.
function showGroups() {
  const rows = data.groups.map((g) => {
    const guessed = g.entries.reduce((n, e) => n + e.fields.filter((f) => f.source === "guessed").length, 0),
      bad = Boolean(g.problem || g.entries.some((e) => e.problem || e.fields.some((f) => f.problem)));
    return {
      path: g.path,
      title: g.title,
      bad,
      guessed: g.path === "first" ? 0 : guessed,
      there: g.entries.length > 0,
    };
  });
  const parts = data.plate ? rows.filter((r) => r.path in data.plate.points) : [];
  showPlate(parts, { plate: data.plate, group, open });
  put(
    "#groups",
    ...rows
      .filter((r) => !parts.includes(r))
      .map((r) =>
        make(
          "button",
          {
            type: "button",
            class: r.bad ? "bad" : "",
            "aria-pressed": String(r.path === group),
            onclick: () => open(r.path),
          },
          r.title,
          r.bad
            ? make("span", { class: "problem" }, say.MEND)
            : r.guessed
              ? make("span", { class: "guess" }, say.guessedIn(r.guessed))
              : "",
        ),
      ),
  );
}

function showFields() {
  const g = data.groups.find((x) => x.path === group) ?? data.groups[0];
  if (!g) {
    put("#title");
    put("#fields");
    return;
  }
  put("#title", g.title, g.problem ? make("span", { class: "problem" }, `: ${g.problem}`) : "");
  const shown = `${g.path}|${page.units}|${g.entries.map((e) => e.fields.map((f) => f.id).join()).join("|")}`;
  if ($("#fields").dataset.shown !== shown) {
    $("#fields").dataset.shown = shown;
    put(
      "#fields",
      ...g.entries.flatMap((e, i) => [
        g.repeated || g.optional
          ? make(
              "div",
              { class: "entry-head" },
              make("h3", {}, g.repeated ? String(i + 1) : ""),
              make(
                "button",
                {
                  type: "button",
                  class: "wordy",
                  onclick: () => edit([...g.path.split("."), ...(g.repeated ? [i] : [])], "", "remove"),
                },
                say.TAKE_AWAY,
              ),
            )
          : "",
        make("p", { class: "problem", id: `at-${e.name}`, hidden: true }),
        ...e.fields.map(field),
      ]),
      g.repeated || (g.optional && !g.entries.length)
        ? make(
            "p",
            {},
            make(
              "button",
              { type: "button", class: "plainly", onclick: () => edit(g.path.split("."), "", "add") },
              g.repeated ? say.ADD_ONE : say.thereIs(g.path),
            ),
          )
        : "",
    );
  }
  for (const e of g.entries) {
    const problem = document.getElementById(`at-${e.name}`);
    if (problem && !e.fields.some((f) => f.problem)) {
      put(problem, e.problem);
      problem.hidden = !e.problem;
    }
    e.fields.forEach(refresh);
  }
}
function field(f) {
  const id = `f-${f.id}`,
    typed = (value) => edit(f.path, value);
  let input;
  if (f.kind === "choice" || f.kind === "yes" || f.kind === "several") {
    const choices = f.kind === "yes" ? ["yes", "no"] : f.choices,
      several = f.kind === "several";
    input = make(
      "div",
      { class: "choices", role: several ? "group" : "radiogroup", "aria-labelledby": `${id}-words`, id },
      ...choices.map((c) =>
        make(
          "label",
          {},
          make("input", {
            type: several ? "checkbox" : "radio",
            name: id,
            value: c,
            onchange: () =>
              typed(
                several
                  ? $$("input:checked", document.getElementById(id))
                      .map((x) => x.value)
                      .join(", ")
                  : c,
              ),
          }),
          c,
        ),
      ),
    );
  } else
    input = make("input", {
      id,
      type: "text",
      autocomplete: "off",
      inputmode: f.kind === "number" ? "text" : f.kind === "whole" ? "numeric" : null,
      "aria-describedby": `${id}-problem ${id}-from`,
      oninput: (event) => typed(event.target.value),
      onfocus: () => measures(f.key),
      onblur: () => measures(),
    });
  return make(
    "div",
    { class: "field" },
    make(
      input.matches("div") ? "p" : "label",
      input.matches("div") ? { id: `${id}-words`, class: "label" } : { for: id, id: `${id}-words` },
      f.words,
      f.unit ? make("span", {}, `, ${f.unit}`) : "",
      make("span", { class: "guess", id: `${id}-from` }),
    ),
    input,
    make("p", { class: "problem", id: `${id}-problem`, hidden: true }),
  );
}
function refresh(f) {
  const id = `f-${f.id}`,
    input = /** @type {HTMLInputElement | null} */ (document.getElementById(id)),
    problem = document.getElementById(`${id}-problem`),
    from = document.getElementById(`${id}-from`);
  if (!input) return;
  put(from, f.source === "guessed" ? say.GUESSED : "");
  put(problem, f.problem);
  problem.hidden = !f.problem;
  if (input.localName === "div") {
    const chosen = f.kind === "several" ? f.value.split(", ") : [f.value];
    for (const choice of $$("input", input)) choice.checked = chosen.includes(choice.value);
    return;
  }
  input.setAttribute("aria-invalid", String(Boolean(f.problem)));
  // A field that was given shows its value; what was guessed or is usual stands in it as a hint.
  input.placeholder = f.source === "given" ? "" : f.value;
  if (document.activeElement !== input && !(f.problem && waits(f))) input.value = f.source === "given" ? f.value : "";
}

function measures(key = document.activeElement?.id?.startsWith("f-") ? find(document.activeElement.id) : null) {
  const near = group === "first" ? "tube." : `${group}.`;
  for (const g of $$("#drawing .measure")) {
    const own = g.dataset.key;
    g.classList.toggle("held", own === key);
    g.classList.toggle("near", own.startsWith(near) && !own.slice(near.length).includes("."));
  }
}
const find = (id) =>
  data?.groups.flatMap((g) => g.entries.flatMap((e) => e.fields)).find((f) => `f-${f.id}` === id)?.key ?? null;
