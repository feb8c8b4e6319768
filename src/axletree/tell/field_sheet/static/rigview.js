// How does the rig stand in this pose? The turning picture where the browser can draw one; flat
// views from the side and from behind where it can't, or when they are asked for.

import { walkAround } from "./look.js";
import { createScene } from "./scene.js";
import { add, dot, framesOf, inFrame, scale, sub } from "./frames.js";
import { arrow, BRASS, el, FAINT, INK, line, PAPER, point, sheet, words } from "./pen.js";
import { make, put } from "./dom.js";
import { otherView, RIG_IN_POSE, rigSeen, SEEN_FROM } from "./field_words.js";

// A view: what is right and what points to the reader. From the east the pole is at the right in
// the north, at the left in the south; from behind one looks to the pole.
const VIEWS = (sense) => [
  { from: "east", right: [0, 1, 0], near: [1, 0, 0] },
  { from: "behind", right: [sense, 0, 0], near: [0, -sense, 0] },
];

// How far and how high anything ever goes, so that every pose is drawn to one scale.
function bounds(rig) {
  let reach = 0.3,
    height = 0.5;
  for (let h = 0; h < 24; h += 2)
    for (let swing = -180; swing < 180; swing += 30) {
      const frames = framesOf(rig, rig.latitude_deg, h, swing);
      for (const part of rig.parts)
        for (const end of [part.start_m, part.end_m]) {
          const p = inFrame(frames, part.frame, end);
          reach = Math.max(reach, Math.hypot(p[0], p[1]) + part.radius_m);
          height = Math.max(height, p[2] + part.radius_m);
        }
    }
  const onTube = rig.parts.filter((p) => p.frame === 3),
    mouth = Math.max(...onTube.flatMap((p) => [p.start_m[2], p.end_m[2]]));
  const tube = onTube.find((p) => p.name === "tube") ?? onTube[0];
  return { reach, height, mouth: [tube.start_m[0], tube.start_m[1], mouth] };
}

// SVG of one flat view: the farthest rods first, each a band with its round or flat ends.
export function flatView(rig, size, pose, view) {
  const frames = framesOf(rig, rig.latitude_deg, pose.tubeEndH, pose.swingDeg),
    W = 300,
    k = W / size.reach / 2,
    base = size.height * k + 8;
  const flat = (p) => point(W / 2 + dot(p, view.right) * k, base - p[2] * k);
  const svg = sheet(W, base + 34, rigSeen(view.from)),
    rods = [];
  svg.append(line(6, base, W - 6, base, INK, 1.6));
  for (const part of rig.parts) {
    if (part.radius_m <= 0) continue;
    const a = inFrame(frames, part.frame, part.start_m),
      b = inFrame(frames, part.frame, part.end_m),
      along = sub(b, a);
    rods.push({
      part,
      a,
      b,
      depth: dot(add(a, b), view.near) / 2,
      slope: dot(along, view.near) / (Math.hypot(...along) || 1),
    });
  }
  for (const { part, a, b, slope } of rods.sort((x, y) => x.depth - y.depth))
    svg.append(rod(part, flat(a), flat(b), part.radius_m * k, slope));
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
function rod(part, a, b, r, slope) {
  const still = part.frame < 2,
    pen = still ? INK : BRASS,
    along = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1e-6,
    u = [(b[0] - a[0]) / along, (b[1] - a[1]) / along];
  const turn = (Math.atan2(u[1], u[0]) * 180) / Math.PI,
    cap = part.flat ? r * Math.abs(slope) : r,
    n = (v) => v.toFixed(2);
  const ink = { fill: /eyepiece|camera/.test(part.name) ? pen : PAPER, stroke: pen, "stroke-width": 1.4 };
  // Of a rod with flat ends the nearer one is seen whole.
  const face = part.flat
    ? el("ellipse", { cx: slope > 0 ? along : 0, cy: 0, rx: cap, ry: r, ...ink, "stroke-width": 1 })
    : null;
  return el(
    "g",
    { transform: `translate(${n(a[0])} ${n(a[1])}) rotate(${n(turn)})` },
    el("path", {
      d: `M0 ${n(-r)}H${n(along)}A${n(cap)} ${n(r)} 0 0 1 ${n(along)} ${n(r)}H0A${n(cap)} ${n(r)} 0 0 1 0 ${n(-r)}Z`,
      ...ink,
    }),
    face,
  );
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
      ...(pose ? VIEWS(rig.latitude_deg >= 0 ? 1 : -1).map((v) => flatView(rig, size, pose, v)) : []),
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
