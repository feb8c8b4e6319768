// How does the rig stand in this pose? The turning picture where the browser can draw one; flat
// views from the side and from behind where it can't, or when they are asked for.

import { walkAround } from "./look.js";
import { createScene } from "./scene.js";
import { add, dot, framesOf, inFrame, scale } from "./frames.js";
import { arrow, BRASS, FAINT, INK, line, point, sheet, words } from "./pen.js";
import { bounds, rodsSeen, viewsOf } from "./rig_flat.js";
import { make, put } from "./dom.js";
import { otherView, RIG_IN_POSE, rigSeen, SEEN_FROM } from "./field_words.js";

// SVG of one flat view: the farthest rods first, each a band with its round or flat ends.
export function flatView(rig, size, pose, view) {
  const frames = framesOf(rig, rig.latitude_deg, pose.tubeEndH, pose.swingDeg),
    W = 300,
    k = W / size.reach / 2,
    base = size.height * k + 8;
  const flat = (p) => point(W / 2 + dot(p, view.right) * k, base - p[2] * k);
  const svg = sheet(W, base + 34, rigSeen(view.from));
  svg.append(line(6, base, W - 6, base, INK, 1.6));
  for (const { element } of rodsSeen(rig, frames, view, { flat, scale: k })) svg.append(element);
  const mouth = inFrame(frames, 3, size.mouth),
    look = frames.turn[3][2],
    eye = inFrame(frames, 3, rig.eye_point_m),
    out = inFrame(frames, 3, add(rig.eye_point_m, scale(rig.barrel, 0.22)));
  svg.append(
    arrow(...flat(add(mouth, scale(look, 0.03))), ...flat(add(mouth, scale(look, 0.22))), BRASS, 2, 9),
    arrow(...flat(out), ...flat(eye), INK, 2, 9),
    words(W / 2, base + 24, SEEN_FROM[view.from], 14, { fill: FAINT }),
  );
  return svg;
}

// The element with its own moves: setPose, setLight. In depth where WebGL draws, else flat.
export function makeRigView(rig) {
  const box = make("div", { class: "rig" }),
    canvas = make("canvas", {
      class: "scene",
      role: "img",
      "aria-label": RIG_IN_POSE,
    }),
    size = bounds(rig);
  let scene = null,
    pose = null,
    flat = false;
  try {
    scene = createScene(canvas, rig);
  } catch {
    scene = null;
  }
  scene?.onLost(() => {
    scene = null;
    draw();
  });
  if (scene) walkAround(canvas, () => [scene]);
  const change = make("button", {
    type: "button",
    class: "wordy",
    onclick: () => {
      flat = !flat;
      draw();
    },
  });
  function draw() {
    change.textContent = otherView(flat);
    if (scene && !flat) {
      put(box, canvas, change);
      if (pose) scene.setAngles(pose.tubeEndH, pose.swingDeg);
      scene.draw();
      return;
    }
    put(
      box,
      ...(pose ? viewsOf(rig.latitude_deg >= 0 ? 1 : -1).map((v) => flatView(rig, size, pose, v)) : []),
      scene ? change : null,
    );
  }
  return {
    element: box,
    inDepth: () => scene !== null && !flat,
    setPose(next) {
      const same =
        pose && Math.abs(next.tubeEndH - pose.tubeEndH) < 0.004 && Math.abs(next.swingDeg - pose.swingDeg) < 0.05;
      if (same && box.childElementCount) return;
      pose = next;
      draw();
    },
    setLight(name) {
      scene?.setTheme(name);
    },
  };
}
