// How is a note or the sky of an evening written down? Kept in the page until the machine has it on
// its disk.

import { $, busy, draft, failed, notice, now, put, unfolds } from "../shared/page.js";
import { onRefused, send, takeRefused } from "../shared/link.js";
import { newId } from "../shared/new_id.js";
import { capital } from "../shared/words.js";
import * as say from "../words/logbook.js";

const SKY = ["seeing_arcsec", "naked_eye_limit_mag", "sky_brightness_mag_arcsec2"];
const state = { note: "", sky: {}, waiting: [], ...(draft.read("logbook") ?? {}) };
const keep = () => draft.write("logbook", state);

// `opened` gives the evening that is open, `opens` opens another; `shown` shows what is known.
export function makeWriting({ update, shown, opened, opens }) {
  async function write(path, given, entry) {
    const uid = newId(),
      at = now().toISOString(),
      evening_ = opened();
    state.waiting.push({ ...entry, uid, at, evening: evening_ });
    keep();
    const reply = await busy(send("POST", path, { at, uid, evening: evening_, ...given }), say.WRITING);
    put("#said", reply ? say.WRITTEN : say.KEPT);
    if (reply) {
      state.waiting = state.waiting.filter((w) => w.uid !== uid);
      keep();
      if (!opened()) opens(reply.evening);
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
  const unfoldSky = unfolds("sky", () => $("#sky input").focus());
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
  if (Object.values(state.sky).some(Boolean)) unfoldSky(true);
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
      unfoldSky(false);
      await update();
    } catch (error) {
      unwait();
      if (error.status === 422) wrong(error.field || "sky", capital(error.message));
      else failed(error);
    }
  });
  // Who forgot to tap where setting up or taking down began.
  const unfoldTook = unfolds("took", () => $("#took-minutes").focus());
  $("#took").addEventListener("submit", async (event) => {
    event.preventDefault();
    const text = $("#took-minutes").value.trim().replace(",", "."),
      minutes = Number(text),
      work = $('input[name="took-work"]:checked').value;
    const tookWrong = (words_) => {
      put("#took-problem", words_).hidden = !words_;
      $("#took-minutes").setAttribute("aria-invalid", String(Boolean(words_)));
    };
    tookWrong(text ? (Number.isFinite(minutes) ? "" : say.notANumber(text)) : say.NOTHING);
    if (!$("#took-problem").hidden) return;
    try {
      await write("/logbook/work", { work, minutes }, { kind: "rig_work", work, minutes });
      $("#took-minutes").value = "";
      unfoldTook(false);
      await update();
    } catch (error) {
      unwait();
      if (error.status === 422) tookWrong(capital(error.message));
      else failed(error);
    }
  });

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
        unfoldSky(true);
      }
      notice("kept", say.notWritten(problem));
      keep();
    }
    shown();
  }
  onRefused(reopened);
  reopened();
  return {
    waiting: (evening) => state.waiting.filter((w) => w.evening === evening),
    arrived(known) {
      state.waiting = state.waiting.filter((w) => !known.has(w.uid));
      keep();
    },
  };
}
