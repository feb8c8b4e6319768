// What can be done with one stop of the order, and what does it cost? Said before it is made.

import { button, make, name } from "./dom.js";
import * as say from "./field_words.js";
import { clock } from "./words.js";

const seconds = (at) => new Date(at * 1000);

// One of them is open at a time; `opened` says which, and what was asked of it.
export function makeRows(field) {
  const { night, run, zone } = field;
  let open = null,
    asked = null;
  const at = (moment) => clock(seconds(moment), zone);
  const thing = (key) => run.things.get(key);
  const names = (keys) => keys.map((key) => thing(key).name);

  function propose(key, to, now) {
    const found = run.reorder(field.state, now, key, to);
    if (found.refused) asked = { key, words: refusal(found.refused), state: null };
    else if (found.costs.length)
      asked = {
        key,
        words: say.losesRoom(names(found.costs)),
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
  const refusal = (lost) => say.refusal(thing(lost.key).name, lost, zone);
  function question() {
    return make(
      "div",
      { class: "question", role: "alert" },
      make("p", {}, asked.words),
      asked.state
        ? button(
            say.DO_IT,
            () => {
              const next = asked.state;
              asked = null;
              open = null;
              field.set(next);
            },
            { class: "plainly strong" },
          )
        : null,
      button(asked.state ? say.LEAVE_IT : say.GOOD, () => {
        asked = null;
        field.redraw();
      }),
    );
  }
  function tools(key, now, row, i, inHand) {
    const box = make("div", { class: "tools" });
    if (!inHand) box.append(button(say.TAKE_NOW, () => propose(key, 0, now)));
    if (!inHand && i > 1) box.append(button(say.EARLIER, () => propose(key, i - 1, now)));
    if (!inHand && i < field.shown.rows.length - 1) box.append(button(say.LATER, () => propose(key, i + 1, now)));
    if (row)
      box.append(
        button(say.FIVE_MORE, () => {
          const found = run.longer(field.state, now, key, 300);
          if (found.state) {
            asked = null;
            field.set(found.state);
          } else {
            asked = {
              key,
              words: say.noLonger(row, zone),
              state: null,
            };
            field.redraw();
          }
        }),
      );
    box.append(
      button(say.OTHER_SIDE, () => {
        const found = run.otherSide(field.state, now, key);
        if (found.state) {
          asked = null;
          field.set(found.state);
        } else {
          asked = { key, words: say.sideFull(found.refused), state: null };
          field.redraw();
        }
      }),
      button(say.LEAVE_OUT, () => {
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
      make("span", { class: "what" }, name(t.name), make("small", {}, say.rowWords(r, t, zone))),
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
        button(say.LEAVE_OUT, () => field.set(run.leaveOut(field.state, now, lost.key))),
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
    const soon = chance && chance.from > now + 60;
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
      make("span", { class: "what" }, name(t.name), make("small", {}, say.spare(t, chance, soon, zone))),
    );
    return make(
      "li",
      {},
      head,
      open === key
        ? make(
            "div",
            { class: "tools" },
            chance ? button(say.PUT_NEXT, () => propose(key, Math.min(1, field.shown.rows.length), now)) : null,
            chance ? button(say.TAKE_NOW, () => propose(key, 0, now)) : null,
            passed
              ? button(say.WAS_SHOWN, () => {
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
