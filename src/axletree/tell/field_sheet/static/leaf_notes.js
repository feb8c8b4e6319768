// What was seen? One-tap remarks, because a phone's keyboard is not red; notes; the file for home.

import { button, make, name, paragraph, refresh } from "./dom.js";
import { download, logbookFile } from "./record.js";
import * as say from "./field_words.js";
import { clock } from "./words.js";

export function makeNotes(field) {
  const { sheet, run, zone } = field,
    element = make("div", { class: "leaf" });
  const area = make("textarea", { id: "note", rows: "2", maxlength: "2000", dir: "auto" }),
    entries = make("ol", { class: "along" }),
    store = make("p", { class: "line" }),
    text = make("textarea", { id: "text", rows: "8", readonly: true, hidden: true, "aria-label": say.FILE_AS_TEXT });
  const back = make("section", { class: "part" });
  const keep = () => {
    const words = area.value.trim();
    if (!words) return;
    area.value = "";
    field.set(run.note(field.state, field.now(), words));
  };
  const file = () => logbookFile(sheet, field.state.entries, zone);
  element.append(
    make("h1", { class: "object" }, say.NOTES),
    make(
      "div",
      { class: "tools wide" },
      ...say.REMARKS.map((r) => button(r, () => field.set(run.note(field.state, field.now(), r)))),
    ),
    make("label", { for: "note" }, say.OWN_WORDS),
    area,
    make("div", { class: "tools" }, button(say.KEEP, keep)),
    back,
    make("h2", {}, say.KEPT_SO_FAR),
    entries,
    store,
    make("h2", {}, say.FOR_THE_LAPTOP),
    paragraph(say.HOW_TO_CARRY, { class: "line" }),
    make(
      "div",
      { class: "tools" },
      button(say.WRITE_THE_FILE, () => download(`axletree-${sheet.evening.date}.json`, file()), { class: "act" }),
      button(say.SHOW_AS_TEXT, () => {
        text.hidden = false;
        text.value = file();
        text.focus();
        text.select();
      }),
    ),
    text,
  );
  function show() {
    const { state } = field;
    refresh(
      entries,
      state.entries.map((e) => e.uid),
      () =>
        state.entries
          .slice()
          .reverse()
          .map((e) =>
            make(
              "li",
              {},
              make(
                "div",
                { class: "rowhead fixed" },
                make("span", { class: "when" }, clock(new Date(e.at * 1000), zone)),
                make(
                  "span",
                  { class: "what" },
                  name(e.kind === "stop" ? e.object : e.text),
                  e.kind === "stop" ? make("small", {}, say.tick(e)) : null,
                ),
              ),
            ),
          ),
    );
    refresh(back, [Boolean(state.before)], () =>
      state.before
        ? make(
            "div",
            { class: "tools" },
            button(say.TAKE_BACK, () => field.set(run.undo(field.state))),
          )
        : [],
    );
    refresh(store, [field.store.kept, field.store.why], () => (field.store.kept ? say.KEPT : field.store.why));
  }
  return { element, show, acts: () => [] };
}
