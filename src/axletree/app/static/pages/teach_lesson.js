// The lesson, step by step: what will happen? Guess, then look.

import { $, $$, make, put, still } from "../shared/page.js";
import * as say from "../words/teach.js";
import { eyepieceCircle } from "./teach_circle.js";
import { threePlaces, turningEarth } from "./teach_globe.js";
import { altazRates, mountOnStar } from "./teach_zenith.js";

const LOOK_S = 9, // one look lasts so long
  MINUTES_S = 2.4, // and begins with the eyepiece's own time, in so many of its seconds
  TURNED_H = 3,
  ZENITH_H = 1; // the star's hour before the meridian and after it
const narrow = matchMedia("(max-width: 899px)"),
  SMALL_SCREEN_TYPE = 2; // words in two drawings side by side on a phone
export const LESSONS = ["axes", "still", "turning", "zenith", "try"];

// Seconds of the sky after a part of a look: first the star's way to the field's edge and as long
// again, then three hours in the rest.
/** @type {(part: number, leavesS: number) => number} */
export function skySeconds(part, leavesS) {
  const first = MINUTES_S / LOOK_S;
  if (part <= first) return (part / first) * 2 * leavesS;
  return 2 * leavesS + ((part - first) / (1 - first)) * (TURNED_H * 3600 - 2 * leavesS);
}

export function lesson({ rig, data, query, opened }) {
  let at = Math.max(0, LESSONS.indexOf(query.get("lesson") ?? "")),
    looked = query.get("looked") === "yes",
    guessed = -1,
    part = 0,
    running = 0,
    last = 0,
    largest = [0, 0];
  const name = () => LESSONS[at];
  // What a look shows that doesn't move: the end, of the star overhead its highest moment.
  const standsAt = () => (name() === "zenith" ? 0.5 : 1);

  function address() {
    query.set("lesson", name());
    if (looked) query.set("looked", "yes");
    else query.delete("looked");
    history.replaceState(null, "", `${location.pathname}?${query}`);
  }
  function draw() {
    const type = narrow.matches ? SMALL_SCREEN_TYPE : 1,
      seconds = looked ? skySeconds(part, data.eyepiece.leaves_s) : 0,
      hours = seconds / 3600;
    const parts = {
      axes: () => [threePlaces(rig, data, { lit: looked })],
      still: () => [
        turningEarth(rig, data, { hours, follows: false, type }),
        eyepieceCircle(data, { seconds, follows: false, type }),
      ],
      turning: () => [
        turningEarth(rig, data, { hours, follows: true, type }),
        eyepieceCircle(data, { seconds, follows: false, type }),
        eyepieceCircle(data, { seconds, follows: true, type }),
      ],
      zenith: () => {
        const H = (looked ? 2 * part - 1 : -1) * ZENITH_H,
          rates = altazRates(H, data.overhead_deg, data.latitude_deg);
        if (looked) largest = largest.map((v, i) => (Math.abs(rates[i]) > Math.abs(v) ? rates[i] : v));
        const seen = { hours: H, largest: looked ? largest : null, low: narrow.matches };
        return [false, true].map((upright) => mountOnStar(rig, data, { ...seen, upright }));
      },
      try: () => [],
    };
    put("#lesson-drawing", ...parts[name()]().map((svg) => make("figure", {}, svg)));
    const clock = !looked
      ? ""
      : name() === "zenith"
        ? say.hoursBefore((2 * part - 1) * ZENITH_H)
        : name() === "axes"
          ? ""
          : say.after(seconds);
    if ($("#lesson-clock").textContent !== clock) put("#lesson-clock", clock);
  }
  function show() {
    const step = name(),
      free = step === "try",
      words = free ? null : say.LESSON[step](data);
    $("#lesson").hidden = free;
    $("#free").hidden = !free;
    document.body.dataset.lesson = step;
    for (const link of $$("#lesson-steps a"))
      if (link.dataset.lesson === step) link.setAttribute("aria-current", "step");
      else link.removeAttribute("aria-current");
    address();
    if (!words) {
      opened();
      return;
    }
    put("#lesson-asks", looked ? words.so : words.asks);
    put(
      "#lesson-told",
      looked ? (guessed < 0 ? "" : say.judged(guessed === words.right, words.guesses[words.right])) : words.before,
    );
    put(
      "#guesses",
      ...(looked
        ? []
        : words.guesses.map((text, i) =>
            make("button", { type: "button", class: "plainly", onclick: () => guess(i) }, text),
          )),
    );
    put("#lesson-on", looked ? say.NEXT : say.LOOK);
    draw();
  }
  function halt() {
    cancelAnimationFrame(running);
    running = 0;
  }
  function run(time) {
    part = Math.min(1, part + Math.min(100, time - last) / 1000 / LOOK_S);
    last = time;
    draw();
    running = part < 1 ? requestAnimationFrame(run) : 0;
  }
  function look() {
    looked = true;
    largest = [0, 0];
    const stands = still.matches || name() === "axes";
    part = stands ? standsAt() : 0;
    if (stands) largest = mostOf(data);
    show();
    if (stands) return;
    last = performance.now();
    running = requestAnimationFrame(run);
  }
  function guess(which) {
    guessed = which;
    look();
  }
  function go(to) {
    halt();
    at = (to + LESSONS.length) % LESSONS.length;
    looked = false;
    guessed = -1;
    part = 0;
    show();
  }
  $("#lesson-on").addEventListener("click", () => (looked ? go(at + 1) : look()));
  put(
    "#lesson-steps",
    ...LESSONS.map((step, i) =>
      make(
        "li",
        {},
        make(
          "a",
          {
            href: `?lesson=${step}`,
            "data-lesson": step,
            "aria-label": `${i + 1} ${say.STEPS[step]}`,
            onclick: (event) => {
              event.preventDefault();
              go(LESSONS.indexOf(step));
            },
          },
          make("b", {}, i + 1),
          " ",
          make("span", {}, say.STEPS[step]),
        ),
      ),
    ),
  );
  if (looked) {
    part = standsAt();
    largest = mostOf(data);
  }
  show();
  return {
    redraw(found, mount) {
      data = found;
      rig = mount;
      show();
    },
  };
}
// The largest rates of a whole look.
function mostOf(data) {
  let most = [0, 0];
  for (let H = -ZENITH_H; H <= ZENITH_H; H += 0.01) {
    const rates = altazRates(H, data.overhead_deg, data.latitude_deg);
    most = most.map((v, i) => (Math.abs(rates[i]) > Math.abs(v) ? rates[i] : v));
  }
  return most;
}
