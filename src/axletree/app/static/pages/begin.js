// How does a newcomer's kit come about? Five answers, one open at a time; each stands in the address.

import { $, $$, busy, draft, failed, fine, make, onLead, page, put, start } from "../shared/page.js";
import { ask, latest, post, send } from "../shared/link.js";
import { drawingFrom } from "../shared/drawing.js";
import * as say from "../words/begin.js";
import { numberOf, numbersOf } from "./begin_numbers.js";
import { placeForm } from "./begin_place.js";

const NAMES = ["place", "mount", "tube", "eyepieces", "who"];
const USUAL = {
  size: "middle",
  motion: "hand",
  kind: "newtonian",
  audience: "family",
  visitors: "4",
  observer: "newcomer",
};
const address = new URLSearchParams(location.search);
const kept = address.size ? Object.fromEntries(address) : (draft.read("begin") ?? {});
// What was answered, as it stands in the address: texts by name; `done` names the answers given.
const given = { ...USUAL, ...kept };
let done = new Set((kept.done ?? "").split(",").filter((name) => NAMES.includes(name))),
  open = NAMES.includes(kept.open) ? kept.open : (NAMES.find((name) => !done.has(name)) ?? ""),
  mounts = [],
  lies = null; // the kit that lies here, once it is known: until then nothing is made

function keep() {
  const values = { ...given, done: NAMES.filter((n) => done.has(n)).join(","), open };
  const query = new URLSearchParams(Object.entries(values).filter(([, v]) => v));
  history.replaceState(null, "", `?${query}`);
  draft.write("begin", Object.fromEntries(query));
}
const eyepieces = () => numbersOf(given.eyepieces ?? "", 2, 80);
const barlow = () => given.barlow === "2";
const visitors = () => (given.audience === "alone" ? 0 : Number(given.visitors));

// What each answer says once it is given, on its row.
const SAID = {
  place: () => given.called,
  mount: () => say.mount(say.look(given.size), given.motion),
  tube: () => say.tube(Number(given.aperture), Number(given.focal), given.kind),
  eyepieces: () => say.eyepieces(eyepieces() ?? [], barlow()),
  who: () => say.who(given.audience, visitors(), given.observer),
};
function show() {
  for (const name of NAMES) {
    $(`#form-${name}`).hidden = name !== open;
    $(`[data-open="${name}"]`).setAttribute("aria-expanded", String(name === open));
    put(`#given-${name}`, done.has(name) ? SAID[name]() : "");
    $(`#row-${name}`).classList.toggle("done", done.has(name));
  }
  $("#make").disabled = !page.leads || !lies || done.size < NAMES.length;
  // A kit of one's own is never written over from here: its page shows both and asks.
  put("#make", lies && !lies.demo ? say.AS_DRAFT : say.MAKE);
}
function turnTo(name, focus = true) {
  open = name;
  keep();
  show();
  if (!focus) return;
  if (name) ($(`#form-${name} input:checked`) ?? $(`#form-${name} input`))?.focus();
  else $("#make").focus();
}
// `fields` are those that are wrong; the first of them gets the focus.
function problem(name, words, fields = []) {
  put(`#problem-${name}`, words).hidden = !words;
  for (const input of $$(`#form-${name} input[aria-describedby]`))
    input.setAttribute("aria-invalid", String(fields.includes(input.id)));
  if (fields.length) $(`#${fields[0]}`).focus();
}
for (const head of $$("[data-open]"))
  head.addEventListener("click", () => turnTo(head.dataset.open === open ? "" : head.dataset.open, false));

// 1. Place.
const places = placeForm(given, problem);

// 2. Mount: three drawings.
function showMounts() {
  put(
    "#looks",
    ...mounts.map((m) =>
      make(
        "label",
        { class: "look" },
        drawingFrom(m.drawing),
        make(
          "span",
          {},
          make("input", {
            type: "radio",
            name: "size",
            value: m.size,
            checked: m.size === given.size,
            onchange: () => {
              given.size = m.size;
              tellMount();
            },
          }),
          say.look(m.size),
        ),
      ),
    ),
  );
  tellMount();
}
function tellMount() {
  const m = mounts.find((one) => one.size === given.size);
  put("#carries", m ? say.carries(m, page.units) : "");
}

// 4. Eyepieces: what they magnify, as they are typed.
function tellPowers() {
  const all = numbersOf($("#eyepieces").value, 2, 80),
    focal = Number(given.focal);
  put("#powers", all && focal > 0 ? say.powers(focal, all, $("#barlow").checked) : "");
}
$("#eyepieces").addEventListener("input", tellPowers);
$("#barlow").addEventListener("change", tellPowers);
const picked = (name) => $(`input[name="${name}"]:checked`)?.value ?? given[name];
for (const radio of $$('input[name="audience"]'))
  radio.addEventListener("change", () => {
    $("#count-row").hidden = radio.value === "alone";
  });

// Each takes its form's values, or gives the words that say what is missing, and in which fields.
const TAKE = {
  place: places.take,
  mount() {
    given.motion = picked("motion");
    return [];
  },
  tube() {
    const aperture = numberOf($("#aperture").value),
      focal = numberOf($("#focal").value);
    const wrong = [
      aperture >= 20 && aperture <= 2000 ? "" : "aperture",
      focal >= 50 && focal <= 10000 ? "" : "focal",
    ].filter(Boolean);
    if (wrong.length) return [say.NO_TUBE, ...wrong];
    Object.assign(given, { aperture: String(aperture), focal: String(focal), kind: picked("kind") });
    return [];
  },
  eyepieces() {
    if (!numbersOf($("#eyepieces").value, 2, 80)) return [say.NO_EYEPIECE, "eyepieces"];
    given.eyepieces = $("#eyepieces").value.trim();
    given.barlow = $("#barlow").checked ? "2" : "";
    return [];
  },
  who() {
    given.audience = picked("audience");
    given.observer = picked("observer");
    const count = numberOf($("#visitors").value);
    if (given.audience !== "alone") {
      if (!(Number.isInteger(count) && count >= 0 && count <= 500)) return [say.NO_COUNT, "visitors"];
      given.visitors = String(count);
    }
    return [];
  },
};
const asBody = () => ({
  name: given.name || given.near,
  place: given.place ?? "",
  size: given.size,
  motion: given.motion,
  kind: given.kind,
  aperture_mm: Number(given.aperture) || 130,
  focal_length_mm: Number(given.focal) || 650,
  eyepieces_mm: eyepieces() ?? [25, 10],
  barlow: barlow() ? 2 : null,
  audience: given.audience,
  visitors: visitors(),
  observer: given.observer,
});
for (const name of NAMES)
  $(`#form-${name}`).addEventListener("submit", async (event) => {
    event.preventDefault();
    const [words = "", ...fields] = await TAKE[name]();
    problem(name, words, fields);
    if (fields.length) return;
    done.add(name);
    await draw();
    turnTo(NAMES.find((n) => !done.has(n)) ?? "");
  });

// The rig grows with the answers.
const drawn = latest((signal) => post("/answer/kit/new", asBody(), signal));
async function draw() {
  if (!done.size) return null;
  try {
    const answer = await drawn();
    fine();
    put("#drawing", drawingFrom(answer.drawing) ?? "");
    const wrong = answer.problems[0]?.message ?? answer.note;
    put("#problem", wrong).hidden = !wrong;
    return answer;
  } catch (error) {
    failed(error);
    return null;
  }
}

// The end: kept at once where a demo lies; else a draft beside the kit that is there.
$("#make").addEventListener("click", async () => {
  try {
    const made = await busy(post("/answer/kit/new", asBody()), say.MAKING, $("#finish"));
    if (made.problems.length) {
      put("#problem", made.problems[0].message).hidden = false;
      return;
    }
    if (!lies.demo) {
      draft.write("kit", { text: made.text, revision: lies.revision, units: page.units, group: "first" });
      location.assign("/kit");
      return;
    }
    const reply = await busy(
      send("PUT", "/kit", { text: made.text, revision: lies.revision }, "kit"),
      say.MAKING,
      $("#finish"),
    );
    if (!reply) return; // no link: it is sent when it returns
    draft.clear("begin");
    history.replaceState(null, "", location.pathname);
    put(".owner", given.name || given.near);
    put("#made-answer", say.MADE);
    put("#made-because", say.keptIn(lies.file, made.guessed));
    $(".five").hidden = true;
    $("#made").hidden = false;
    $("#made").focus();
    fine();
  } catch (error) {
    failed(error);
  }
});
async function load() {
  const [looks, kit] = await Promise.all([ask("kit/mounts"), ask("kit")]);
  mounts = looks.mounts;
  lies = kit;
  showMounts();
  show();
  await draw();
}
for (const [id, value] of [
  ["#place", given.typed],
  ["#name", given.name],
  ["#aperture", given.aperture],
  ["#focal", given.focal],
  ["#eyepieces", given.eyepieces],
  ["#visitors", given.visitors],
])
  $(id).value = value ?? "";
$("#barlow").checked = barlow();
for (const name of ["motion", "kind", "audience", "observer"])
  for (const radio of $$(`input[name="${name}"]`)) radio.checked = radio.value === given[name];
$("#count-row").hidden = given.audience === "alone";
if (given.typed) void places.search();
tellPowers();
onLead(() => {
  if (!page.leads) put("#problem", say.NOT_LEADING).hidden = false;
  show();
});
start(busy(load().catch(failed), say.LOOKING));
