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
import { showKit } from "./kit_fields.js";
import { makeMeasure } from "./kit_measure.js";
import { showParts } from "./kit_parts.js";
import { makePhotographs } from "./kit_photographs.js";

const kept = draft.read("kit");
let data = null,
  group = new URLSearchParams(location.search).get("part") ?? kept?.group ?? "first",
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
  data = { ...found, file: stored.file, parts: stored.parts };
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
  list("#problems", [
    ...data.problems.map((p) => [make("span", { class: "problem" }, say.problem(p))]),
    ...data.slips.map((words) => [say.lookAgain(words)]),
  ]);
  if (document.activeElement !== $("#text")) $("#text").value = text;
  const drawn = drawingFrom(data.drawing);
  if (drawn) put("#drawing", drawn);
  showParts(data.parts, page.leads && !changed(), choose);
  fields();
}
const fields = () => showKit(data, { group, open: turnTo, edit, waits });
const waits = (f) => queue.some((e) => e.path.join() === f.path.join());
// `tapped` in the drawing: on a phone the part's fields take the place of the names.
function turnTo(path, tapped = false) {
  group = path;
  history.replaceState(null, "", path === "first" ? location.pathname : `?part=${path}`);
  if (tapped) $(".sheet.kit").dataset.part = "open";
  fields();
  if (tapped && matchMedia("(max-width: 899px)").matches) $("#plate").scrollIntoView();
}
$("#whole-rig").addEventListener("click", () => {
  delete $(".sheet.kit").dataset.part;
  fields();
  $(".reading").scrollIntoView();
});

async function choose(part, name) {
  try {
    await busy(post("/kit/part", { part, name, revision: based }), say.CHOOSING);
    text = null;
    await load();
    fine();
    notice("kept", say.partChosen(part, name));
    setTimeout(() => notice("kept", ""), 4000);
  } catch (error) {
    show();
    failed(error);
  }
}
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
const drafts = {
  draft: () => ({ text, units }),
  take: (fresh) => {
    text = fresh;
    queue = [];
    void recheck();
  },
};
makeMeasure(drafts);
makePhotographs(drafts);
const first = busy(load().catch(failed), say.READING);
start(first);
first.then(() => {
  if (location.hash !== "#measure-first" || data?.withheld) return;
  $("#measure-open").click();
  $("#measure-first").scrollIntoView();
});
