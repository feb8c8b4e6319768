// What was seen? One-tap remarks, because a phone's keyboard is not red; notes; the file for home.

import { button, make, name, paragraph, refresh } from "./dom.js";
import { download, logbookFile } from "./record.js";
import { clock } from "./words.js";

const REMARKS = [
  "clear",
  "thin cloud",
  "cloud",
  "wind",
  "haze",
  "dew",
  "stars stand still",
  "stars boil",
  "stray light",
  "a crowd",
];

export function makeNotes(field) {
  const { sheet, run, zone } = field,
    element = make("div", { class: "leaf" });
  const area = make("textarea", { id: "note", rows: "2", maxlength: "2000", dir: "auto" }),
    entries = make("ol", { class: "along" }),
    store = make("p", { class: "line" }),
    text = make("textarea", { id: "text", rows: "8", readonly: true, hidden: true, "aria-label": "The file as text" });
  const back = make("section", { class: "part" });
  const keep = () => {
    const words = area.value.trim();
    if (!words) return;
    area.value = "";
    field.set(run.note(field.state, field.now(), words));
  };
  const file = () => logbookFile(sheet, field.state.entries, zone);
  element.append(
    make("h1", { class: "object" }, "Notes"),
    make(
      "div",
      { class: "tools wide" },
      ...REMARKS.map((r) => button(r, () => field.set(run.note(field.state, field.now(), r)))),
    ),
    make("label", { for: "note" }, "In your own words. The phone's keyboard is not red: shade it."),
    area,
    make("div", { class: "tools" }, button("Keep", keep)),
    back,
    make("h2", {}, "Kept so far"),
    entries,
    store,
    make("h2", {}, "For the laptop"),
    paragraph(
      "Write the file before you close this page, copy it to the laptop, and there: axletree log import FILE. Reading it twice doubles nothing; what you change after writing it is added only as new notes.",
      { class: "line" },
    ),
    make(
      "div",
      { class: "tools" },
      button("Write the file", () => download(`axletree-${sheet.evening.date}.json`, file()), { class: "act" }),
      button("Show it as text", () => {
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
                  e.kind === "stop"
                    ? make(
                        "small",
                        {},
                        e.state === "done" ? `shown${e.visitors ? ` to ${e.visitors}` : ""}` : "skipped",
                      )
                    : null,
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
            button("Take back the last step", () => field.set(run.undo(field.state))),
          )
        : [],
    );
    refresh(store, [field.store.kept, field.store.why], () =>
      field.store.kept ? "Kept on this phone, with this file, until the browser's data are cleared." : field.store.why,
    );
  }
  return { element, show, acts: () => [] };
}
