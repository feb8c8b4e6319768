// In which order? A rule of the evening: stops at their times, each with its side and the end of
// its room; what was ticked, and what could be shown as well.

import { make, name, paragraph, put } from "./dom.js";
import { makeRows } from "./leaf_order_rows.js";
import * as say from "./field_words.js";
import { capital } from "./words.js";

export function makeOrder(field) {
  const { sheet, run } = field,
    element = make("div", { class: "leaf" }),
    { at, row, lostRow, spareRow, opened } = makeRows(field);
  let written = "";
  function show(now, shown) {
    const { item, rows, lost } = shown,
      state = field.state,
      inHand = item.kind === "stop" ? item.row.key : null;
    const key = JSON.stringify([
      rows.map((r) => [r.key, r.side, Math.round(r.start / 60), Math.round(r.until / 60)]),
      lost.map((l) => l.key),
      ...opened(),
      item.kind,
      item.index,
      inHand,
      state.entries.length,
      state.passed,
      Math.floor(now / 300),
    ]);
    if (key === written) return;
    written = key;
    const stopsDone = new Map(state.entries.filter((e) => e.kind === "stop").map((e) => [e.key, e]));
    const coming = new Set([...rows.map((r) => r.key), ...lost.map((l) => l.key)]),
      waiting = (k) => !coming.has(k) && !stopsDone.has(k);
    const aside = [...new Set([...state.passed, ...run.planned.map((r) => r.key)])].filter(waiting),
      spares = sheet.spares.map((s) => s.catalogue_id).filter((k) => waiting(k) && !aside.includes(k));
    const parts = [make("h1", { class: "step" }, say.orderTitle(state.byClock))];
    if (item.kind === "stage") {
      parts.push(
        make("h2", {}, say.SETTING_UP),
        make(
          "ol",
          { class: "along" },
          ...run.main.map((s, i) =>
            make(
              "li",
              { class: i === item.index ? "inhand" : "" },
              make(
                "div",
                { class: "rowhead fixed" },
                make("span", { class: "when" }, at(s.from)),
                make("span", { class: "what" }, s.name),
              ),
            ),
          ),
        ),
      );
    }
    if (rows.length)
      parts.push(
        item.kind === "stage" ? make("h2", {}, say.THE_STOPS) : null,
        make("ol", { class: "along" }, ...rows.map((r, i) => row(r, i, now, r.key === inHand))),
      );
    const last = rows[rows.length - 1];
    if (last)
      parts.push(
        paragraph(say.lastEnds(last.end, state.byClock, sheet.evening.order.words, field.zone), { class: "faint" }),
      );
    if (lost.length)
      parts.push(
        make("h2", {}, say.NO_ROOM_IN_ORDER),
        make("ol", { class: "along" }, ...lost.map((l) => lostRow(l, now))),
      );
    if (stopsDone.size)
      parts.push(
        make("h2", {}, say.TICKED),
        make(
          "ol",
          { class: "along" },
          ...[...stopsDone.values()].map((e) =>
            make(
              "li",
              {},
              make(
                "div",
                { class: "rowhead fixed" },
                make("span", { class: "when" }, at(e.at)),
                make("span", { class: "what" }, name(e.object), make("small", {}, say.tick(e))),
              ),
            ),
          ),
        ),
      );
    if (aside.length)
      parts.push(
        make("h2", {}, say.PASSED),
        make("ol", { class: "along" }, ...aside.map((k) => spareRow(k, now, true))),
      );
    if (spares.length)
      parts.push(
        make("h2", {}, say.AS_WELL),
        make("ol", { class: "along" }, ...spares.map((k) => spareRow(k, now, false))),
      );
    if (parts.length === 1) parts.push(paragraph(capital(sheet.evening.order.words), { class: "line" }));
    const top = window.scrollY;
    put(element, ...parts);
    window.scrollTo(0, top);
  }
  return {
    element,
    show,
    acts: () => [],
    fresh() {
      written = "";
    },
  };
}
