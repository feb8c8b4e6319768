// How is a value set by hand? On a ruled scale with a brass index, by thumb or by arrow keys.

import { keptWithin, typefaceHere } from "./measure.js";
import { BRASS, el, INK, line, PAPER, placeIn, words } from "./pen.js";

const W = 400,
  LEFT = 22,
  RIGHT = 378,
  BASE = 58,
  TICK = 16,
  FIGURE = 19;

// `keyStep`: what an arrow key moves. `ticks`: the small, middle and long steps. `label(value)`: the figure at a long tick. `say(value)`:
// the value in words, for the index and for those who can't see it. `mark`: a value to aim at.
// `mirrored`: values grow to the left, and so do the arrow keys of that side.
/**
 * @param {{ name: string, min: number, max: number, value: number, step: number, keyStep?: number, ticks: number[], label?: (value: number) => string | number, say: (value: number) => string, oninput: (value: number) => void, onset?: (value: number) => void, mark?: number | null, mirrored?: boolean }} given
 */
export function ruler({
  name,
  min,
  max,
  value,
  step,
  keyStep = step,
  ticks,
  label = (v) => v,
  say,
  oninput,
  onset = () => {},
  mark = null,
  mirrored = false,
}) {
  const group = el("g", { "aria-hidden": "true" });
  const index = el(
    "g",
    {},
    el("path", { d: "M0 58L-15 24H15Z", fill: BRASS }),
    line(0, 58, 0, 80, BRASS, 2.5),
    el("rect", { x: -26, y: 0, width: 52, height: 88, fill: "transparent" }),
  );
  const figure = words(0, 19, "", FIGURE, { "font-weight": 600, fill: BRASS });
  const svg = el(
    "svg",
    { viewBox: `0 0 ${W} 104`, class: "ruler", role: "slider", tabindex: 0, "aria-label": name },
    group,
    figure,
    index,
  );
  let range = { min, max, ticks, mark },
    off = false;
  const from = mirrored ? RIGHT : LEFT,
    to = mirrored ? LEFT : RIGHT,
    right = mirrored ? -keyStep : keyStep;
  const x = (v) => from + ((v - range.min) / (range.max - range.min)) * (to - from);
  const fit = (v) => Math.min(range.max, Math.max(range.min, Math.round(v / step) * step));
  function rule() {
    group.replaceChildren(line(LEFT, BASE, RIGHT, BASE, INK, 1.6));
    const [small, middle, long] = range.ticks;
    const d = [[], []];
    for (let i = Math.ceil(range.min / small - 1e-9); i * small <= range.max + 1e-9; i += 1) {
      const v = i * small,
        isLong = Math.abs(v / long - Math.round(v / long)) < 1e-6,
        isMiddle = Math.abs(v / middle - Math.round(v / middle)) < 1e-6;
      d[isLong ? 1 : 0].push(`M${x(v).toFixed(1)} ${BASE}v${isLong ? 18 : isMiddle ? 12 : 7}`);
      if (isLong) {
        const text = String(label(Math.round(v / long) * long));
        group.append(words(keptWithin(x(v), text, TICK, 0, W), BASE + 38, text, TICK));
      }
    }
    group.append(...d.map((parts, i) => el("path", { d: parts.join(""), stroke: INK, "stroke-width": i ? 1.8 : 0.9 })));
    if (range.mark !== null && range.mark >= range.min && range.mark <= range.max)
      group.append(
        el("path", {
          d: `M${x(range.mark).toFixed(1)} ${BASE - 1}l-8 -13h16z`,
          fill: PAPER,
          stroke: INK,
          "stroke-width": 1.6,
        }),
      );
  }
  let shown = "";
  function show() {
    const key = `${value}|${say(value)}|${range.min}|${range.max}`;
    if (key === shown) return;
    shown = key;
    index.setAttribute("transform", `translate(${x(value).toFixed(1)} 0)`);
    const words = say(value);
    figure.textContent = words;
    figure.setAttribute("x", String(keptWithin(x(value), words, FIGURE, 2, W - 2, 600)));
    for (const [k, v] of Object.entries({
      "aria-valuemin": range.min,
      "aria-valuemax": range.max,
      "aria-valuenow": +value.toFixed(6),
      "aria-valuetext": words,
    }))
      svg.setAttribute(k, v);
  }
  const take = (v, done) => {
    if (off) return;
    value = fit(v);
    show();
    oninput(value);
    if (done) onset(value);
  };
  const at = (event) => {
    return range.min + ((placeIn(svg, event)[0] - from) / (to - from)) * (range.max - range.min);
  };
  let held = false;
  svg.addEventListener("pointerdown", (event) => {
    if (off) return;
    held = true;
    svg.setPointerCapture(event.pointerId);
    take(at(event), false);
  });
  svg.addEventListener("pointermove", (event) => {
    if (held) take(at(event), false);
  });
  svg.addEventListener("pointerup", (event) => {
    if (held) {
      held = false;
      take(at(event), true);
    }
  });
  svg.addEventListener("pointercancel", () => {
    held = false;
  });
  svg.addEventListener("keydown", (event) => {
    const big = range.ticks[1];
    const next = {
      ArrowRight: value + right,
      ArrowUp: value + keyStep,
      ArrowLeft: value - right,
      ArrowDown: value - keyStep,
      PageUp: value + big,
      PageDown: value - big,
      Home: range.min,
      End: range.max,
    }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    take(next, true);
  });
  const draw = () => {
    shown = "";
    rule();
    show();
  };
  draw();
  typefaceHere.then(draw);
  return {
    element: svg,
    get value() {
      return value;
    },
    set(v) {
      value = fit(v);
      show();
    },
    range(next) {
      range = { ...range, ...next };
      value = fit(value);
      rule();
      show();
    },
    disable(now) {
      off = now;
      svg.setAttribute("aria-disabled", String(now));
      svg.style.opacity = now ? 0.6 : 1;
    },
  };
}
