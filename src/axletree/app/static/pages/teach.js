// Why does one axis suffice? The globe and the mount move together; the stars turn over both.

import {
  $,
  busy,
  failed,
  light,
  make,
  now,
  onBack,
  onKit,
  onLead,
  onLight,
  onSettings,
  put,
  set,
  start,
  still,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { walkAround } from "../shared/look.js";
import { createScene } from "../shared/scene.js";
import { createGlobe } from "../shared/globe.js";
import { drawingFrom, fieldsOf } from "../shared/drawing.js";
import { ruler } from "../shared/scale.js";
import { SIDEREAL, wrapH } from "../shared/clock.js";
import * as say from "../words/teach.js";
import { lesson } from "./teach_lesson.js";

const query = new URLSearchParams(location.search);
let data = null,
  taught = null,
  scene = null,
  rig = null,
  latitude = 0,
  hours = 0,
  running = 0,
  star = null;

const globe = createGlobe((value, done) => {
  setLatitude(value);
  if (done) set({ latitude: value });
});
put("#globe", globe.element);
const lat = ruler({
  name: say.LATITUDE,
  min: -90,
  max: 90,
  value: 0,
  step: 0.1,
  keyStep: 1,
  ticks: [5, 15, 30],
  label: say.latitudeTick,
  say: say.place,
  oninput: (v) => setLatitude(v),
  onset: (v) => set({ latitude: v }),
});
const turn = ruler({
  name: say.HOURS,
  min: 0,
  max: 24,
  value: 0,
  step: 0.1,
  ticks: [0.5, 1, 3],
  label: say.hoursTick,
  say: say.turned,
  oninput: (v) => setHours(v),
  onset: (v) => set({ hours: v }),
});
put("#latitude", lat.element);
put("#hours", turn.element);

// The star that the tube follows: the brightest that is well up when the sky begins to turn.
function chooseStar() {
  star = null;
  const f = (latitude * Math.PI) / 180,
    up = data.stars.map(([ra, dec, mag]) => {
      const H = wrapH(18 - ra),
        h = (H * Math.PI) / 12,
        d = (dec * Math.PI) / 180;
      return {
        ra,
        dec,
        mag,
        H,
        alt: (Math.asin(Math.sin(f) * Math.sin(d) + Math.cos(f) * Math.cos(d) * Math.cos(h)) * 180) / Math.PI,
      };
    });
  const good = up
    .filter((s) => s.alt > 30 && s.H > -6 && s.H < 0 && Math.abs(s.dec) < 70)
    .sort((a, b) => a.mag - b.mag);
  star = good[0] ?? up.sort((a, b) => b.alt - a.alt)[0];
}
function setLatitude(value) {
  latitude = value;
  globe.set(value);
  lat.set(value);
  scene?.setLatitude(value);
  if (data) chooseStar();
  show();
}
function setHours(value) {
  hours = ((value % 24) + 24) % 24;
  turn.set(hours);
  show();
}

function show() {
  const [what, small] = say.answer(latitude);
  put("#answer", what, make("small", {}, small));
  put("#because", say.because(latitude), hours ? say.afterTurning(hours) : say.SLIDE_THE_PLACE);
  if (!data || !star) return;
  const sky = 18 + hours * SIDEREAL,
    H = wrapH(sky - star.ra),
    sense = latitude >= 0 ? 1 : -1;
  const end = wrapH(H - 6),
    swing = -sense * (90 - sense * star.dec);
  scene?.setSky(sky);
  scene?.setAngles(end, swing);
  if (!scene && rig && !$("#free").hidden) flat(end, swing).catch(failed);
}
const flat = latest(async (signal, end, swing) => {
  const found = await ask(
    "rig/side",
    { latitude_deg: latitude, tube_end_h: end.toFixed(2), swing_deg: swing.toFixed(1) },
    signal,
  );
  $("#scene").hidden = true;
  put("#flat", drawingFrom(found.drawing)).hidden = false;
}, 60);

// The turning picture is made when it is first seen.
function makeScene() {
  if (scene || !rig) return;
  const old = $("#scene"),
    canvas = old.cloneNode(false);
  old.replaceWith(canvas);
  scene = createScene(canvas, rig, { reach: 1.7, stars: data.stars });
  if (scene) {
    const own = scene;
    own.onLost(() => {
      scene = null;
      show();
    });
    walkAround(canvas, () => [scene]);
    own.setTheme(light());
    own.setLatitude(latitude);
  }
  show();
}
onLight((name) => scene?.setTheme(name));

async function build() {
  [data, rig] = await Promise.all([ask("teach", { at: now().toISOString() }), ask("rig")]);
  scene = null;
  setLatitude(latitude || data.latitude_deg);
  $("#still").hidden = !data.swing.length;
  put("#still-point", ...fieldsOf(data.swing));
  if (taught) taught.redraw(data, rig);
  else taught = lesson({ rig, data, query, opened: makeScene });
}
// The whole screen for the lesson: nothing but one drawing, one question and one large button.
function fill(on) {
  document.body.dataset.whole = on ? "yes" : "no";
  put("#whole", on ? say.NOT_WHOLE : say.WHOLE);
  if (on) query.set("whole", "yes");
  else query.delete("whole");
  history.replaceState(null, "", `${location.pathname}?${query}`);
}
$("#whole").addEventListener("click", () => {
  const on = document.body.dataset.whole !== "yes";
  fill(on);
  // Where the browser lets it, its own frame goes, too; where not, the page alone is enough.
  if (on) document.documentElement.requestFullscreen?.().catch(() => {});
  else if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
});
document.addEventListener("fullscreenchange", () => {
  if (!document.fullscreenElement) fill(false);
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && document.body.dataset.whole === "yes") fill(false);
});
if (query.get("whole") === "yes") fill(true);
$("#run").addEventListener("click", () => {
  if (running) {
    clearInterval(running);
    running = 0;
    put("#run", say.RUN);
    set({ hours });
    return;
  }
  put("#run", say.STOP);
  running = setInterval(() => setHours(hours + (still.matches ? 0.5 : 0.03)), still.matches ? 1000 : 50);
});
$("#home").addEventListener("click", () => {
  setLatitude(data.latitude_deg);
  setHours(0);
  set({ latitude: null, hours: 0 });
});
// No latitude set is the site's own: the leader's page knows it better than those who look on.
onSettings((shared) => {
  latitude = typeof shared.latitude === "number" ? shared.latitude : 0;
  if (data) {
    setLatitude(latitude || data.latitude_deg);
    if (!running && typeof shared.hours === "number") setHours(shared.hours);
  }
});
onLead((leads) => {
  lat.disable(!leads);
  turn.disable(!leads);
  globe.disable(!leads);
});
onKit(() => build().catch(failed));
onBack(() => data || build().catch(failed));
start(busy(build(), say.BUILDING).catch(failed));
