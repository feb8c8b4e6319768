// In which order, and what if it changes? A rule of the evening: stops at their times, each with
// its side and the end of its room; what a change costs is said before it is made.

import { button, make, name, paragraph, put } from "./dom.js";
import { capital, clock, duration } from "./words.js";

const seconds = (at) => new Date(at * 1000);

export function makeOrder(field) {
  const { sheet, night, run, zone } = field,
    element = make("div", { class: "leaf" });
  let open = null,
    asked = null,
    written = "";
  const at = (moment) => clock(seconds(moment), zone);
  const until = (moment) => (moment === Infinity ? "room all night" : `room to ${at(moment)}`);
  const thing = (key) => run.things.get(key);
  const list = (keys) => keys.map((key) => thing(key).name).join(", ");

  function propose(key, to, now) {
    const found = run.reorder(field.state, now, key, to);
    if (found.refused) asked = { key, words: refusal(found.refused), state: null };
    else if (found.costs.length)
      asked = {
        key,
        words: `Then ${list(found.costs)} ${found.costs.length === 1 ? "has" : "have"} no room any more.`,
        state: found.state,
      };
    else {
      asked = null;
      open = null;
      field.set(found.state);
      return;
    }
    field.redraw();
  }
  const refusal = (lost) =>
    lost.latest === null
      ? `${thing(lost.key).name} has no room tonight.`
      : `${thing(lost.key).name} would begin at ${at(lost.arrive)}, but must begin by ${at(lost.latest)}: it needs ${duration(lost.queue)}, and at ${at(lost.until)} ${lost.endsBy}.`;
  function question() {
    return make(
      "div",
      { class: "question", role: "alert" },
      make("p", {}, asked.words),
      asked.state
        ? button(
            "Do it",
            () => {
              const next = asked.state;
              asked = null;
              open = null;
              field.set(next);
            },
            { class: "plainly strong" },
          )
        : null,
      button(asked.state ? "Leave it" : "Good", () => {
        asked = null;
        field.redraw();
      }),
    );
  }
  function tools(key, now, row, i, inHand) {
    const box = make("div", { class: "tools" });
    if (!inHand) box.append(button("take it now", () => propose(key, 0, now)));
    if (!inHand && i > 1) box.append(button("earlier", () => propose(key, i - 1, now)));
    if (!inHand && i < field.shown.rows.length - 1) box.append(button("later", () => propose(key, i + 1, now)));
    if (row)
      box.append(
        button("5 min more", () => {
          const found = run.longer(field.state, now, key, 300);
          if (found.state) {
            asked = null;
            field.set(found.state);
          } else {
            asked = {
              key,
              words:
                row.shows < row.until
                  ? `It shows until ${at(row.shows)} only.`
                  : `Its room ends at ${at(row.until)}: ${row.endsBy}.`,
              state: null,
            };
            field.redraw();
          }
        }),
      );
    box.append(
      button("other side", () => {
        const found = run.otherSide(field.state, now, key);
        if (found.state) {
          asked = null;
          field.set(found.state);
        } else {
          asked = { key, words: `Side ${found.refused} has no room for the whole queue.`, state: null };
          field.redraw();
        }
      }),
      button("leave it out", () => {
        asked = null;
        open = null;
        field.set(run.leaveOut(field.state, now, key));
      }),
    );
    return box;
  }
  function row(r, i, now, inHand) {
    const key = r.key,
      t = thing(key);
    const head = make(
      "button",
      {
        type: "button",
        class: "rowhead",
        "aria-expanded": String(open === key),
        onclick: () => {
          open = open === key ? null : key;
          asked = null;
          field.redraw();
        },
      },
      make("span", { class: "when" }, at(r.start)),
      make(
        "span",
        { class: "what" },
        name(t.name),
        make(
          "small",
          {},
          `tube ${r.side}, ${t.view.eyepiece}, ${until(r.until)}${r.wait > 90 ? `; ${duration(r.wait)} to wait` : ""}`,
        ),
      ),
    );
    return make(
      "li",
      { class: inHand ? "inhand" : "" },
      head,
      open === key ? tools(key, now, r, i, inHand) : null,
      asked?.key === key ? question() : null,
    );
  }
  function lostRow(lost, now) {
    return make(
      "li",
      {},
      make(
        "div",
        { class: "rowhead fixed" },
        make("span", { class: "when" }, "–"),
        make("span", { class: "what" }, name(thing(lost.key).name), make("small", {}, refusal(lost))),
      ),
      make(
        "div",
        { class: "tools" },
        button("leave it out", () => field.set(run.leaveOut(field.state, now, lost.key))),
      ),
    );
  }
  function spareRow(key, now, passed) {
    const t = thing(key),
      queue = night.queue(key),
      chance = night
        .openings(key)
        .filter((o) => o.lasts - Math.max(o.from, now) >= queue)
        .sort((a, b) => a.from - b.from)[0];
    const soon = chance && chance.from > now + 60,
      said = chance
        ? `tube ${chance.side}, ${soon ? `from ${at(chance.from)}, ` : ""}${until(chance.until)}`
        : "no room any more tonight";
    const head = make(
      "button",
      {
        type: "button",
        class: "rowhead bare",
        "aria-expanded": String(open === key),
        onclick: () => {
          open = open === key ? null : key;
          asked = null;
          field.redraw();
        },
      },
      make("span", { class: "what" }, name(t.name), make("small", {}, `${t.kind}; ${said}`)),
    );
    return make(
      "li",
      {},
      head,
      open === key
        ? make(
            "div",
            { class: "tools" },
            chance ? button("put it next", () => propose(key, Math.min(1, field.shown.rows.length), now)) : null,
            chance ? button("take it now", () => propose(key, 0, now)) : null,
            passed
              ? button("it was shown", () => {
                  open = null;
                  field.set(run.shownBefore(field.state, now, key));
                })
              : null,
          )
        : null,
      asked?.key === key ? question() : null,
    );
  }
  function show(now, shown) {
    const { item, rows, lost } = shown,
      state = field.state,
      inHand = item.kind === "stop" ? item.row.key : null;
    const key = JSON.stringify([
      rows.map((r) => [r.key, r.side, Math.round(r.start / 60), Math.round(r.until / 60)]),
      lost.map((l) => l.key),
      open,
      asked?.words,
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
    const parts = [
      make("h1", { class: "step" }, state.byClock ? "The order, by the clock" : "The order, from your last tick"),
    ];
    if (item.kind === "stage") {
      parts.push(
        make("h2", {}, "Setting up"),
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
        item.kind === "stage" ? make("h2", {}, "The stops") : null,
        make("ol", { class: "along" }, ...rows.map((r, i) => row(r, i, now, r.key === inHand))),
      );
    const last = rows[rows.length - 1];
    if (last)
      parts.push(
        paragraph(
          `The last of them ends at ${at(last.end)}. ${state.byClock ? `This order is ${sheet.evening.order.words}` : "This order is your own."}`,
          { class: "faint" },
        ),
      );
    if (lost.length)
      parts.push(
        make("h2", {}, "No room any more in this order"),
        make("ol", { class: "along" }, ...lost.map((l) => lostRow(l, now))),
      );
    if (stopsDone.size)
      parts.push(
        make("h2", {}, "Ticked"),
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
                make(
                  "span",
                  { class: "what" },
                  name(e.object),
                  make("small", {}, e.state === "done" ? `shown${e.visitors ? ` to ${e.visitors}` : ""}` : "skipped"),
                ),
              ),
            ),
          ),
        ),
      );
    if (aside.length)
      parts.push(
        make("h2", {}, "Passed or left out, not ticked"),
        make("ol", { class: "along" }, ...aside.map((k) => spareRow(k, now, true))),
      );
    if (spares.length)
      parts.push(
        make("h2", {}, "Could be shown as well"),
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
