// What will the hands do tonight? The whole evening played by day, at any pace, step by step.

import { $, $$, asking, busy, make, now, onBack, onKit, page, put, radios, start, still } from "../shared/page.js";
import { ask } from "../shared/link.js";
import { capital } from "../shared/words.js";
import * as say from "../words/rehearse.js";
import { roomBar } from "./rehearse_room.js";
import { aim, between, rehearsedRig } from "./rehearse_view.js";

const SHOWN_S = 4.5, // what stands still is looked at so long
  FOLLOWED_S = 6, // and a stop's minutes are drawn together to this
  LEAST_S = 1.6,
  REST_S = 1.4; // between two steps
const query = new URLSearchParams(location.search);
let data = null,
  rig = null,
  at = 0,
  part = 0,
  playing = 0,
  last = 0,
  rested = 0,
  pace = say.PACES.some(([value]) => value === query.get("pace")) ? query.get("pace") : "1";

const step = () => data.steps[at];
const secondsOf = (one) =>
  one.act === "follow" ? FOLLOWED_S : one.plays_s === null ? SHOWN_S : Math.max(LEAST_S, one.plays_s);

// The step and the pace stand in the address, so that a step can be sent to somebody.
function address() {
  query.set("step", step().key);
  if (pace === "1") query.delete("pace");
  else query.set("pace", pace);
  history.replaceState(null, "", `${location.pathname}?${query}`);
}

function draw() {
  const one = step(),
    seen = rig.draw(one, part);
  const axis = one.act === "bolt" || one.act === "scale";
  put("#east", axis ? aim(one, part, rig) : seen.east);
  put("#behind", seen.behind);
  const pose = between(one, part);
  for (const [id, text] of [
    ["#locks", say.locks(one)],
    ["#weights", say.weights(pose.end)],
  ]) {
    const e = $(id);
    if (e && e.textContent !== text) put(e, text);
  }
  put("#room", ...(one.room ? [roomBar(one, one.act === "follow" ? part : 0)] : []));
}
function show() {
  const one = step(),
    whole = one.built === Math.max(...data.group);
  put("#when", say.when(one, at + 1, data.steps.length, page.zone));
  put("#answer", one.title);
  put("#because", ...one.done.flatMap((words, i) => (i ? [make("br"), words] : [words])));
  put(
    "#figures",
    ...(one.hold ? [make("dt", {}, say.HOLD), make("dd", {}, one.hold)] : []),
    ...(whole
      ? [
          make("dt", {}, say.LOCKS),
          make("dd", { id: "locks" }),
          make("dt", {}, say.WEIGHTS),
          make("dd", { id: "weights" }),
        ]
      : []),
  );
  put("#beware", ...one.beware.map((words) => make("p", { class: "caution" }, words)));
  $("#drawing").dataset.side = rig.side(one);
  for (const link of $$("#chapters a"))
    if (link.dataset.chapter === one.chapter) link.setAttribute("aria-current", "step");
    else link.removeAttribute("aria-current");
  $("#step-back").disabled = at === 0;
  $("#step-on").disabled = at === data.steps.length - 1;
  address();
  draw();
}
// A step that is looked at, not played, is seen as it ends; what turns, as it begins.
function go(to, whole = true) {
  at = Math.min(data.steps.length - 1, Math.max(0, to));
  part = whole ? 1 : 0;
  rested = 0;
  show();
}

function stop() {
  cancelAnimationFrame(playing);
  clearTimeout(playing);
  playing = 0;
  put("#play", say.PLAY);
}
function play() {
  if (at === data.steps.length - 1 && part === 1) go(0, false);
  put("#play", say.STOP);
  last = performance.now();
  part = part === 1 && rested === 0 ? 0 : part;
  if (still.matches) steady();
  else playing = requestAnimationFrame(frame);
}
function frame(time) {
  const gone = (Math.min(250, time - last) / 1000) * Number(pace);
  last = time;
  playing = requestAnimationFrame(frame);
  if (part < 1) {
    part = Math.min(1, part + gone / secondsOf(step()));
    draw();
    return;
  }
  rested += gone;
  if (rested < REST_S) return;
  if (at === data.steps.length - 1) stop();
  else go(at + 1, false);
}
// Where motion is unwelcome each step stands still, as it ends.
function steady() {
  go(at);
  const wait = (Math.max(SHOWN_S, secondsOf(step())) / Number(pace)) * 1000;
  playing = window.setTimeout(
    () => {
      if (at === data.steps.length - 1) return stop();
      at += 1;
      steady();
    },
    Math.max(700, wait),
  );
}

function chapters() {
  const seen = new Map();
  for (const one of data.steps) if (!seen.has(one.chapter)) seen.set(one.chapter, one.key);
  put(
    "#chapters",
    ...[...seen].map(([chapter, key]) =>
      make(
        "li",
        {},
        make(
          "a",
          {
            href: `?step=${key}`,
            "data-chapter": chapter,
            onclick: (event) => {
              event.preventDefault();
              stop();
              inView();
              go(data.steps.findIndex((s) => s.key === key));
            },
          },
          chapter,
        ),
      ),
    ),
  );
}

function took(found) {
  data = found;
  const none = data.steps.length === 0;
  for (const id of ["#drawing", "#control", "#below"]) $(id).hidden = none;
  stop();
  if (none) {
    put("#when");
    put("#answer", say.NOTHING);
    put("#because", capital(data.nothing));
    put("#figures");
    put("#beware");
    return;
  }
  rig = rehearsedRig(data);
  chapters();
  go(
    Math.max(
      0,
      data.steps.findIndex((s) => s.key === query.get("step")),
    ),
  );
}
const update = () => asking(() => ask("rehearse", { day: query.get("day") ?? "", at: now().toISOString() }), took);

// The paces and the list lie below the rig on a phone, the buttons under the thumb.
function inView() {
  if ($("#drawing").getBoundingClientRect().top < 0) scrollTo({ top: 0, behavior: still.matches ? "auto" : "smooth" });
}
$("#play").addEventListener("click", () => {
  if (playing) return stop();
  inView();
  play();
});
const by = (steps) => () => {
  stop();
  inView();
  go(at + steps);
};
$("#step-back").addEventListener("click", by(-1));
$("#step-on").addEventListener("click", by(1));
document.addEventListener("keydown", (event) => {
  const on = event.target instanceof Element ? event.target : null;
  if (!data?.steps.length || event.altKey || event.ctrlKey || event.metaKey || on?.closest("input, textarea, .ruler"))
    return;
  if (event.key === "ArrowRight" || event.key === "ArrowLeft") {
    event.preventDefault();
    stop();
    go(at + (event.key === "ArrowRight" ? 1 : -1));
  } else if (event.key === " " && !on?.closest("button, a, summary")) {
    event.preventDefault();
    $("#play").click();
  }
});
put(
  "#paces-of-play",
  ...radios("pace", say.PACES, pace, (value) => {
    pace = value;
    if (data?.steps.length) address();
  }),
);
onKit(() => busy(update(), say.PUTTING_TOGETHER));
onBack(() => data || update());
start(busy(update(), say.PUTTING_TOGETHER));
