// How does the rig stand? A small picture in space, drawn like the sheets: paper parts with ink
// around them, brass ink around what turns, the parts that touch filled.
//
// createScene(canvas, rig, options) -> { setAngles, setLatitude, setTheme, setTouching, setGhost,
// setSky, turn, draw, onLost } or null where the browser has no WebGL.

import { add, framesOf, scale } from "./frames.js";
import { camera } from "./look.js";
import { compass, disc, dots, rod } from "./mesh.js";
import { spacePen } from "./space_pen.js";

const THEMES = {
  day: {
    back: [0.984, 0.973, 0.945],
    ground: [0.945, 0.925, 0.87],
    fill: [0.984, 0.973, 0.945],
    ink: [0.11, 0.1, 0.09],
    brass: [0.54, 0.42, 0.1],
    touch: [0.7, 0.21, 0.12],
    faint: [0.62, 0.59, 0.53],
    dark: 0.8,
  },
  dusk: {
    back: [0.09, 0.082, 0.075],
    ground: [0.14, 0.13, 0.12],
    fill: [0.17, 0.157, 0.145],
    ink: [0.82, 0.79, 0.73],
    brass: [0.84, 0.68, 0.32],
    touch: [0.94, 0.5, 0.4],
    faint: [0.42, 0.39, 0.35],
    dark: 0.72,
  },
  red: {
    back: [0, 0, 0],
    ground: [0.1, 0, 0],
    fill: [0.16, 0, 0],
    ink: [0.8, 0, 0],
    brass: [1, 0, 0],
    touch: [1, 0, 0],
    faint: [0.4, 0, 0],
    dark: 0.6,
  },
};

export function createScene(canvas, rig, { reach = 0.92, stars = null, dome = 1.7, look = 0.7 } = {}) {
  const pen = spacePen(canvas);
  if (!pen) return null;
  const { store, show, inked } = pen;
  const parts = rig.parts
    .filter((part) => part.radius_m > 0)
    .map((part) => ({ ...part, ...store(rod(part.start_m, part.end_m, part.radius_m, part.flat)) }));
  const eye = rig.eye_point_m,
    barrel = rig.barrel;
  const eyeArrow = [
    store(rod(add(eye, scale(barrel, 0.26)), add(eye, scale(barrel, 0.12)), 0.007, true)),
    store(rod(add(eye, scale(barrel, 0.13)), add(eye, scale(barrel, 0.03)), 0.026, true, true)),
  ];
  const ground = store(disc(reach)),
    marks = store(compass(reach * 0.97));
  const axis = [];
  for (let z = -0.4; z < (stars ? dome : 1.15); z += 0.1)
    axis.push(store(rod([0, 0, z], [0, 0, z + 0.06], 0.004, true, false, 6)));
  const sky =
    stars &&
    store(
      dots(
        stars.map(([ra, dec, mag]) => {
          const a = (-ra * Math.PI) / 12,
            d = (dec * Math.PI) / 180;
          return [
            dome * Math.cos(d) * Math.cos(a),
            dome * Math.cos(d) * Math.sin(a),
            dome * Math.sin(d),
            0.011 + 0.007 * Math.max(0, 3 - mag),
          ];
        }),
      ),
    );
  const rings = stars
    ? [-60, -30, 0, 30, 60]
        .flatMap((dec) => {
          const d = (dec * Math.PI) / 180,
            list = [];
          for (let i = 0; i < 120; i += 2) {
            const p = [i, i + 1].map((k) => [
              dome * Math.cos(d) * Math.cos((k * Math.PI) / 60),
              dome * Math.cos(d) * Math.sin((k * Math.PI) / 60),
              dome * Math.sin(d),
            ]);
            list.push(p);
          }
          return [merged(list.map(([a, b]) => rod(a, b, dec === 0 ? 0.006 : 0.003, true, false, 4)))];
        })
        .map(store)
    : [];
  const state = {
    end: 0,
    swing: 0,
    latitude: rig.latitude_deg,
    theme: "day",
    touching: new Set(),
    ghost: null,
    sky: 0,
    heading: rig.latitude_deg >= 0 ? 2.35 : 0.8,
    tilt: 0.3,
  };
  let lost = false,
    tell = () => {};
  pen.onLost(() => {
    lost = true;
    tell();
  });

  function merged(meshes) {
    const all = { positions: [], normals: [], outs: [] };
    for (const m of meshes) for (const k of Object.keys(all)) all[k].push(...m[k]);
    return all;
  }
  const seen = () =>
    camera({
      far_: stars ? 5.4 : 3.15,
      height: stars ? 0.62 : rig.hinge_height_m * look,
      heading: state.heading,
      tilt: state.tilt,
      wide: canvas.width / canvas.height,
    });
  function rigAt(pose, ghost = false) {
    const theme = THEMES[state.theme],
      ratio = canvas.width / (canvas.clientWidth || 1);
    for (const part of parts) {
      if (ghost && part.frame < 2) continue;
      const turn = pose.turn[part.frame],
        origin = pose.at[part.frame],
        touches = state.touching.has(part.name);
      const lens = part.name === "eyepiece" || part.name === "camera";
      const fill = touches && !ghost ? theme.touch : lens && !ghost ? theme.brass : theme.fill;
      const ink = ghost ? theme.faint : touches ? theme.touch : part.frame < 2 ? theme.ink : theme.brass;
      inked(part, turn, origin, fill, ink, (ghost ? 1 : 1.5) * ratio, { alpha: ghost ? 0.35 : 1, dark: theme.dark });
    }
    if (!ghost) for (const mesh of eyeArrow) inked(mesh, pose.turn[3], pose.at[3], theme.ink, theme.ink, ratio);
  }
  function draw() {
    if (lost) return;
    const ratio = Math.min(window.devicePixelRatio || 1, 2),
      w = Math.round(canvas.clientWidth * ratio),
      h = Math.round(canvas.clientHeight * ratio);
    if (!w || !h) return;
    if (canvas.width !== w || canvas.height !== h) {
      canvas.width = w;
      canvas.height = h;
    }
    const theme = THEMES[state.theme],
      still = [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ];
    pen.begin(theme.back, seen());
    pen.floor(-1);
    const pose = framesOf(rig, state.latitude, state.end, state.swing);
    show(ground, still, [0, 0, -0.004], theme.ground);
    show(marks, still, [0, 0, 0], theme.ink);
    const line = [pose.turn[1], pose.centre];
    if (stars) pen.floor(0.004);
    for (const mesh of axis) show(mesh, ...line, theme.ink);
    if (stars) {
      const a = (state.sky * Math.PI) / 12,
        c = Math.cos(a),
        s = Math.sin(a),
        north = scale(pose.pole, pose.sense),
        m = scale(pose.meridian, 1);
      const frame = [add(scale(m, c), scale(pose.west, s)), add(scale(m, -s), scale(pose.west, c)), north];
      for (const mesh of rings) show(mesh, [m, pose.west, north], pose.centre, theme.faint);
      show(sky, frame, pose.centre, theme.ink);
    }
    pen.floor(-1);
    rigAt(pose);
    if (state.ghost) {
      pen.through(true);
      rigAt(framesOf(rig, state.latitude, state.ghost.tubeEndH, state.ghost.swing), true);
      pen.through(false);
    }
  }
  let waiting = 0;
  const soon = () => {
    if (!waiting)
      waiting = requestAnimationFrame(() => {
        waiting = 0;
        draw();
      });
  };
  new ResizeObserver(soon).observe(canvas);
  return {
    setAngles(end, swing) {
      if (Math.abs(end - state.end) < 0.006 && Math.abs(swing - state.swing) < 0.05) return;
      state.end = end;
      state.swing = swing;
      soon();
    },
    setLatitude(deg) {
      state.latitude = deg;
      soon();
    },
    setTheme(name) {
      state.theme = name in THEMES ? name : "day";
      soon();
    },
    setTouching(names) {
      const now = [...names].sort().join("|");
      if (now === [...state.touching].sort().join("|")) return;
      state.touching = new Set(names);
      soon();
    },
    setGhost(pose) {
      state.ghost = pose;
      soon();
    },
    setSky(hours) {
      state.sky = hours;
      soon();
    },
    turn(dx, dy) {
      state.heading += dx;
      state.tilt = Math.min(1.45, Math.max(0.02, state.tilt + dy));
      soon();
    },
    onLost(fn) {
      tell = fn;
      if (lost) fn();
    },
    draw: soon,
  };
}
