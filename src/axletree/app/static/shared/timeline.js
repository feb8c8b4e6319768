// When is what? A rule of time down the sheet, with what happens at its marks; what can be moved
// has a brass grip, for the thumb and for arrow keys.

import * as say from "../words/shared.js";
import { widthOf } from "./measure.js";
import { make } from "./page.js";
import { BRASS, el, HAIR, INK, line, PAPER, trace, words } from "./pen.js";
import { clock } from "./words.js";

const RULE = 64,
  GUTTER = 26,
  LEAST = 58,
  TOP = 14,
  HOUR = 17, // size of the hours' type, where they have room for it
  MIN = 60000;

// `rows`: [{ key, from, to, title, under, tag, state, grip }] in order, times in ms; `state` one of
// "past", "skipped", "now", "chosen", "". `onchoose(key)`, `onmove(key, place)` with places counted
// among the rows that have a grip. Call settle() once the element stands in the page: rows whose
// words need more than their share of the rule then get it.
/**
 * @typedef {{ key: string, from: number, to: number, title: string, under?: any, tag?: string, state?: string, grip?: boolean }} Row
 * @param {{ rows: Row[], breaks?: number[][], zone: string, canMove: boolean, onchoose: (key: string) => void, onmove: (key: string, place: number) => void }} given
 */
export function timeline({ rows, breaks = [], zone, canMove, onchoose, onmove }) {
  const box = make("div", { class: "timeline" }),
    list = make("ol", {}),
    mark = make("div", { class: "insert", hidden: true });
  if (!rows.length) return { element: box, dragged: false, now() {}, focus() {}, settle() {} };
  const first = Math.floor(Math.min(...rows.map((r) => r.from)) / (15 * MIN)) * 15 * MIN,
    last = Math.ceil(Math.max(...rows.map((r) => r.to), first + 15 * MIN) / (15 * MIN)) * 15 * MIN;
  const movables = rows.filter((r) => r.grip).map((r) => r.key),
    items = new Map();
  const svg = el("svg", { "aria-hidden": "true" }),
    hand = el(
      "g",
      { visibility: "hidden" },
      el("path", { d: "M0 0l-13 -7v14z", fill: INK }),
      line(0, 0, 12, 0, INK, 2.4),
    );
  let dragged = false,
    tops = [],
    heights = rows.map(() => LEAST),
    at = NaN;
  /** @type {(ms: number) => number} */
  let y = () => 0;

  // True to time; so long that rows seldom have to give way to each other.
  function lay() {
    const needed = heights.reduce((a, b) => a + b, 0),
      perMin = Math.min(9, Math.max(3, needed / ((last - first) / MIN)));
    y = (t) => TOP + ((t - first) / MIN) * perMin;
    tops = [];
    rows.forEach((r, i) => {
      tops.push(Math.max(y(r.from) - 4, i ? tops[i - 1] + heights[i - 1] : 0));
    });
    const height = Math.max(y(last) + TOP, tops[tops.length - 1] + heights[heights.length - 1] + 6);
    for (const [k, v] of Object.entries({
      width: RULE + GUTTER,
      height: height.toFixed(0),
      viewBox: `0 0 ${RULE + GUTTER} ${height.toFixed(0)}`,
    }))
      svg.setAttribute(k, v);
    const parts = [],
      d = ["", "", ""],
      room = RULE - 24,
      size = Math.min(HOUR, (HOUR * room) / widthOf("00:00", HOUR, 600));
    for (let t = first; t <= last + 1; t += 5 * MIN) {
      const of = Math.round(t / MIN) % 60,
        kind = of === 0 ? 2 : of % 15 === 0 ? 1 : 0;
      d[kind] += `M${RULE} ${y(t).toFixed(1)}h${[-6, -11, -18][kind]}`;
      if (kind === 2)
        parts.push(
          words(RULE - 22, y(t) + 6, clock(new Date(t), zone), size, { "text-anchor": "end", "font-weight": 600 }),
        );
    }
    parts.push(
      line(RULE, y(first), RULE, y(last), INK, 1.6),
      ...d.map((p, i) => el("path", { d: p, stroke: INK, "stroke-width": [0.9, 1.2, 2][i] })),
    );
    for (const [a, b] of breaks)
      if (b > first && a < last)
        parts.push(
          el("rect", {
            x: RULE + 1,
            y: y(a),
            width: 7,
            height: y(b) - y(a),
            fill: PAPER,
            stroke: INK,
            "stroke-width": 0.8,
            "stroke-dasharray": "3 3",
          }),
        );
    rows.forEach((r, i) => {
      const past = r.state === "past" || r.state === "skipped",
        mid = tops[i] + 22;
      parts.push(
        line(
          RULE + 4,
          y(r.from),
          RULE + 4,
          Math.max(y(r.to), y(r.from) + 2),
          past ? HAIR : INK,
          r.state === "now" ? 6 : 3.4,
        ),
        el("path", {
          d: trace([
            [RULE + 7, y(r.from)],
            [RULE + 13, y(r.from)],
            [RULE + GUTTER - 4, mid],
            [RULE + GUTTER, mid],
          ]),
          fill: "none",
          stroke: HAIR,
          "stroke-width": 1,
        }),
      );
      items.get(r.key).style.top = `${tops[i]}px`;
    });
    svg.replaceChildren(...parts, hand);
    box.style.height = `${height}px`;
    point();
  }
  function point() {
    const on = at >= first && at <= last;
    hand.setAttribute("visibility", on ? "visible" : "hidden");
    if (on) hand.setAttribute("transform", `translate(${RULE - 1} ${y(at).toFixed(1)})`);
  }
  const bottom = (i) => tops[i] + heights[i];
  // Before which of the movable rows a held one would come to stand.
  function placeAt(clientY) {
    const own = clientY - box.getBoundingClientRect().top;
    return rows.filter((r, i) => r.grip && own > (tops[i] + bottom(i)) / 2).length;
  }
  function grip(r, item) {
    const own = movables.indexOf(r.key);
    const button = make("button", {
      type: "button",
      class: "grip",
      disabled: !canMove,
      "aria-label": say.moveStop(r.title, own + 1, movables.length),
    });
    button.append(
      el(
        "svg",
        { viewBox: "0 0 24 44", "aria-hidden": "true" },
        el("path", { d: "M12 3l8 10H4z", fill: BRASS }),
        ...[17, 22, 27].map((v) => line(4, v, 20, v, BRASS, 2.4)),
        el("path", { d: "M12 41l8 -10H4z", fill: BRASS }),
      ),
    );
    let held = false,
      place = own,
      startY = 0;
    button.addEventListener("pointerdown", (event) => {
      if (button.disabled) return;
      held = dragged = true;
      startY = event.clientY + scrollY;
      place = own;
      button.setPointerCapture(event.pointerId);
      event.preventDefault();
      button.focus({ preventScroll: true });
      item.classList.add("held");
    });
    button.addEventListener("pointermove", (event) => {
      if (!held) return;
      item.style.transform = `translateY(${event.clientY + scrollY - startY}px)`;
      const before = placeAt(event.clientY),
        edge = rows.findIndex((x) => x.key === movables[before]);
      place = before > own ? before - 1 : before;
      mark.hidden = false;
      mark.style.top = `${edge >= 0 ? tops[edge] - 3 : bottom(rows.findIndex((x) => x.key === movables[movables.length - 1])) - 3}px`;
      if (event.clientY > innerHeight - 90) scrollBy(0, 12);
      else if (event.clientY < 90) scrollBy(0, -12);
    });
    const end = (event) => {
      if (!held) return;
      held = dragged = false;
      mark.hidden = true;
      item.classList.remove("held");
      item.style.transform = "";
      if (event.type === "pointerup" && place !== own) onmove(r.key, place);
    };
    button.addEventListener("pointerup", end);
    button.addEventListener("pointercancel", end);
    button.addEventListener("keydown", (event) => {
      const to = { ArrowUp: own - 1, ArrowDown: own + 1, Home: 0, End: movables.length - 1 }[event.key];
      if (to === undefined) return;
      event.preventDefault();
      if (to >= 0 && to < movables.length && to !== own) onmove(r.key, to);
    });
    return button;
  }
  for (const r of rows) {
    const item = make(
      "li",
      { class: r.state || "plain" },
      make(
        "button",
        { type: "button", class: "stop", "aria-pressed": String(r.state === "chosen"), onclick: () => onchoose(r.key) },
        make("span", { class: "at" }, clock(new Date(r.from), zone)),
        " ", // where a long name may go to the next line
        make("span", { class: "name" }, r.title),
        r.tag ? make("span", { class: "tag" }, r.tag) : null,
        r.under ? make("span", { class: "under" }, r.under) : null,
      ),
    );
    item.dataset.key = r.key;
    if (r.grip) item.append(grip(r, item));
    items.set(r.key, item);
    list.append(item);
  }
  box.append(svg, list, mark);
  lay();
  const settle = () => {
    const real = rows.map((r) => Math.max(LEAST, items.get(r.key).offsetHeight + 4));
    if (box.isConnected && real.join() !== heights.join()) {
      heights = real;
      lay();
    }
  };
  // A turned phone breaks the words into other rows.
  new ResizeObserver(settle).observe(list);
  return {
    element: box,
    get dragged() {
      return dragged;
    },
    settle,
    now(t) {
      at = t;
      point();
    },
    focus(key, what = ".grip") {
      items.get(key)?.querySelector(what)?.focus({ preventScroll: true });
    },
  };
}
