// What does the person own? Fields and file are one text; every keystroke is checked, nothing is
// kept before the button says so.

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
import { ask, latest, post, send } from "../shared/link.js";
import { drawingFrom } from "../shared/drawing.js";
import * as say from "../words/kit.js";

const kept = draft.read("kit");
let data = null,
  group = kept?.group ?? "first",
  text = kept?.text ?? null,
  based = kept?.revision ?? 0,
  units = kept?.units ?? page.units,
  queue = [];

const check = latest((signal) => {
  const edits = queue;
  return post("/answer/kit/check", { text, edits, units }, signal).then((found) => {
    queue = queue.slice(edits.length);
    return found;
  });
}, 120);

async function load() {
  const found = await ask("kit");
  if (text === null || text === found.text) {
    text = found.text;
    based = found.revision;
    units = found.units;
    take({ ...found }, found);
  } else {
    take(await post("/answer/kit/check", { text, edits: [], units }), found);
  }
}
let saved = null;
function take(found, stored = saved) {
  saved = stored;
  data = { ...found, file: stored.file };
  text = found.text;
  units = found.units;
  page.units = units;
  show();
  if (changed()) draft.write("kit", { text, revision: based, units, group });
  else draft.clear("kit");
}
const changed = () => saved && text !== saved.text;
async function edit(path, value, what = "set") {
  queue.push({ path, value, what });
  await recheck();
}
async function recheck() {
  try {
    const found = await check();
    fine();
    take(found);
  } catch (error) {
    failed(error);
  }
}

function show() {
  const wrong = data.problems.length;
  if (wrong) {
    put("#answer", say.toMend(wrong));
    const first = data.problems[0];
    put("#because", say.atLine(first.line), make("b", {}, first.key), first.key ? ": " : "", first.message);
  } else {
    put(
      "#answer",
      data.guessed ? make("small", {}, say.RIGHT_AND_GUESSED[0]) : say.RIGHT,
      data.guessed ? String(data.guessed) : "",
      data.guessed ? make("small", {}, say.RIGHT_AND_GUESSED[1]) : "",
    );
    put(
      "#because",
      data.note
        ? make("span", { class: "problem" }, data.note)
        : changed()
          ? say.notKept(data.name)
          : say.inOrder(data.name, data.withheld),
    );
  }
  for (const part of $$(".leaders")) part.hidden = Boolean(data.withheld);
  for (const radio of $$('input[name="units"]')) radio.checked = radio.value === units;
  $("#keep").disabled = !page.leads || !changed() || !data.right;
  put("#keep", say.keep(data.file));
  $("#keeping").hidden = !changed();
  list(
    "#problems",
    data.problems.map((p) => [make("span", { class: "problem" }, say.problem(p))]),
  );
  if (document.activeElement !== $("#text")) $("#text").value = text;
  const drawn = drawingFrom(data.drawing);
  if (drawn) put("#drawing", drawn);
  showGroups();
  showFields();
  measures();
}

function showGroups() {
  put(
    "#groups",
    ...data.groups.map((g) => {
      const guessed = g.entries.reduce((n, e) => n + e.fields.filter((f) => f.source === "guessed").length, 0);
      const bad = g.problem || g.entries.some((e) => e.problem || e.fields.some((f) => f.problem));
      return make(
        "button",
        {
          type: "button",
          class: bad ? "bad" : "",
          "aria-pressed": String(g.path === group),
          onclick: () => {
            group = g.path;
            showGroups();
            showFields();
            measures();
          },
        },
        g.title,
        bad
          ? make("span", { class: "problem" }, say.MEND)
          : guessed && g.path !== "first"
            ? make("span", { class: "guess" }, say.guessedIn(guessed))
            : "",
      );
    }),
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
  const shown = `${g.path}|${units}|${g.entries.map((e) => e.fields.map((f) => f.id).join()).join("|")}`;
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
  if (document.activeElement !== input && !(f.problem && queueHas(f)))
    input.value = f.source === "given" ? f.value : "";
}
const queueHas = (f) => queue.some((e) => e.path.join() === f.path.join());

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

async function replace(fresh) {
  text = fresh;
  queue = [];
  $("#text").value = fresh;
  await recheck();
  scrollTo({ top: 0 });
}
for (const radio of $$('input[name="units"]'))
  radio.addEventListener("change", () => edit(["habits", "units"], radio.value));
$("#text").addEventListener("input", (event) => {
  text = event.target.value;
  queue = [];
  void recheck();
});
$("#keep").addEventListener("click", async () => {
  try {
    const reply = await busy(send("PUT", "/kit", { text, revision: based }, "kit"), say.KEEPING);
    if (reply) {
      based = reply.revision;
      saved = { ...saved, text };
      draft.clear("kit");
      fine();
      notice("kept", say.kept(data.file));
      setTimeout(() => notice("kept", ""), 4000);
      show();
    }
  } catch (error) {
    failed(error);
  }
});
$("#discard").addEventListener("click", () => {
  text = null;
  queue = [];
  draft.clear("kit");
  load().catch(failed);
});
for (const button of $$("[data-demo]"))
  button.addEventListener("click", () =>
    ask(`kit/demo/${button.dataset.demo}`)
      .then((f) => replace(f.text))
      .catch(failed),
  );
$("#open").addEventListener("change", async (event) => {
  const file = event.target.files[0];
  if (!file) return;
  if (file.size > 120000) {
    failed2(say.TOO_LARGE);
    return;
  }
  await replace(await file.text());
});
const failed2 = (words) => notice("failed", words);
$("#new").addEventListener("submit", async (event) => {
  event.preventDefault();
  const number = (id) => Number($(id).value.replace(",", ".")),
    radio = (name) => $(`input[name="${name}"]:checked`).value;
  const problem = $("#new-problem");
  try {
    for (const [id, word] of [
      ["#new-aperture", say.LENGTHS.aperture],
      ["#new-focal", say.LENGTHS.focal],
    ])
      if (!(number(id) > 0)) throw Object.assign(new Error(say.notALength(word)), { field: id });
    const found = await post("/answer/kit/new", {
      name: $("#new-name").value,
      place: $("#new-place").value,
      kind: radio("new-kind"),
      aperture_mm: number("#new-aperture"),
      focal_length_mm: number("#new-focal"),
      size: radio("new-size"),
      motion: $("#new-motor").checked ? "motor" : "hand",
    });
    problem.hidden = true;
    group = "first";
    await replace(found.text);
  } catch (error) {
    put(problem, error.message).hidden = false;
    $(error.field || "#new-place").focus();
  }
});
onKit(() => {
  if (!changed()) {
    text = null;
    load().catch(failed);
  } else notice("kit", say.CHANGED_ELSEWHERE);
});
onBack(() => (queue.length ? recheck() : null));
onLead((leads) => {
  if (!data) return;
  // Whoever is given the lead is given the file with it.
  if (leads && saved?.withheld && !changed()) {
    text = null;
    load().catch(failed);
  } else show();
});
start();
busy(load().catch(failed), say.READING);
