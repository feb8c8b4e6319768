// The rest of the sheet: the clock and how far it is off, the sky's clock, cautions, all in words.

import { button, make, put, refresh } from "./dom.js";
import * as say from "./field_words.js";
import { clock } from "./words.js";

const three = (h) => {
  const s = Math.floor(h * 3600);
  return `${Math.floor(s / 3600)}h ${String(Math.floor(s / 60) % 60).padStart(2, "0")}m ${String(s % 60).padStart(2, "0")}s`;
};

export function makeSheet(field) {
  const { night, zone } = field,
    element = make("div", { class: "leaf" });
  const time = make("p", { class: "count" }),
    off = make("p", { class: "line" }),
    star = make("p", { class: "line" }),
    saved = make("p", { class: "faint" });
  const typed = make("input", {
    id: "good",
    inputmode: "numeric",
    autocomplete: "off",
    placeholder: "hh:mm:ss",
    maxlength: "8",
  });
  const ahead = make("input", {
    id: "ahead",
    inputmode: "numeric",
    autocomplete: "off",
    placeholder: "hh:mm",
    maxlength: "8",
  });
  const tools = make(
    "div",
    { class: "tools six" },
    ...say.STEPS.map(([s, words]) => button(words, () => field.shift(field.offset() + s))),
  );
  // What a good clock shows, taken as the nearest such time of day.
  const seconds = (text) => {
    const m = /^\s*(\d{1,2})[:. ](\d{2})(?:[:. ](\d{2}))?\s*$/.exec(text);
    return m && +m[1] < 24 && +m[2] < 60 && +(m[3] ?? 0) < 60 ? +m[1] * 3600 + +m[2] * 60 + +(m[3] ?? 0) : null;
  };
  const dayPart = (at) => {
    const [h, m, s] = clock(new Date(at * 1000), zone, true)
      .split(":")
      .map(Number);
    return h * 3600 + m * 60 + s;
  };
  const near = (wanted, at) => {
    let d = wanted - dayPart(at);
    if (d > 43200) d -= 86400;
    if (d < -43200) d += 86400;
    return d;
  };
  const problem = make("p", { class: "problem", role: "alert" });
  const set = (input, apply) => () => {
    const wanted = seconds(input.value);
    problem.textContent = wanted === null ? say.WRITE_A_TIME : "";
    if (wanted !== null) {
      apply(wanted);
      input.value = "";
    }
  };
  const wake = make("div", { class: "tools" });
  if ("wakeLock" in navigator) {
    const hold = button(say.KEEP_SCREEN_ON, async () => {
      try {
        await navigator.wakeLock.request("screen");
        hold.textContent = say.SCREEN_STAYS_ON;
      } catch {
        hold.textContent = say.NOT_ALLOWED;
      }
    });
    wake.append(hold);
  }
  if ("vibrate" in navigator && [...field.run.things.values()].some((t) => t.nudge.every_s !== null)) {
    const tap = button(say.tapping(false), () => {
      field.setTaps(!field.taps());
      tap.textContent = say.tapping(field.taps());
      if (field.taps()) navigator.vibrate(80);
    });
    wake.append(tap);
  }
  element.append(
    make("h1", { class: "object" }, say.THE_CLOCK),
    time,
    off,
    tools,
    make("label", { for: "good" }, say.GOOD_CLOCK),
    typed,
    make(
      "div",
      { class: "tools" },
      button(
        say.SET,
        set(typed, (wanted) => field.shift(field.offset() + near(wanted, field.real()))),
      ),
      button(say.PHONES_OWN, () => field.shift(0)),
    ),
    star,
    wake,
    make("label", { for: "ahead" }, say.OTHER_TIME),
    ahead,
    make(
      "div",
      { class: "tools" },
      button(
        say.LOOK_AHEAD,
        set(ahead, (wanted) => field.lookAt(wanted)),
      ),
      button(say.BACK_TO_NOW, () => field.lookAt(null)),
    ),
    problem,
    saved,
    field.plain,
  );
  function show(now) {
    put(time, make("b", {}, clock(new Date(field.real() * 1000), zone, true)), make("span", {}, zone));
    const s = field.offset();
    refresh(off, [s], () => say.offBy(s));
    put(star, say.SIDEREAL_TIME, make("b", {}, three(night.siderealH(now))), say.ON_MERIDIAN);
  }
  return { element, show, acts: () => [] };
}
