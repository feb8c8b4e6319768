// What can be done with one stop of the order, and what does it cost? Said before it is made.

import { button, make, name } from "./dom.js";
import { clock, duration } from "./words.js";

const seconds = (at) => new Date(at * 1000);

// One of them is open at a time; `opened` says which, and what was asked of it.
export function makeRows(field) {
  const { night, run, zone } = field;
  let open = null,
    asked = null;
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
  return { at, row, lostRow, spareRow, opened: () => [open, asked?.words] };
}
