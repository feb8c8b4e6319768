// How does the rig stand? A small picture in space, drawn like the sheets: paper parts with ink
// around them, brass ink around what turns, the parts that touch filled.
//
// createScene(canvas, rig, options) -> { setAngles, setLatitude, setTheme, setTouching, setGhost,
// setSky, turn, draw, onLost } or null where the browser has no WebGL.

import { add, cross, dot, framesOf, scale, sub, unit } from "./frames.js";
import { compass, disc, dots, rod } from "./mesh.js";

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
const VERTEX = `attribute vec3 p; attribute vec3 n; attribute vec3 o; uniform mat4 view; uniform mat3 turn; uniform vec3 at; uniform vec2 ink;
varying vec3 normal; varying float z;
void main() { vec3 w = turn * p + at; normal = turn * n; z = w.z; vec4 c = view * vec4(w, 1.0);
vec2 out2 = (view * vec4(turn * o, 0.0)).xy; if (ink.x > 0.0) c.xy += normalize(out2 / ink + 1e-6) * ink * c.w; gl_Position = c; }`;
const FRAGMENT = `precision mediump float; varying vec3 normal; varying float z; uniform vec4 colour; uniform float dark; uniform float floor_;
void main() { if (z < floor_) discard; float l = mix(dark, 1.0, clamp(0.5 + 0.5 * dot(normalize(normal), vec3(0.36, -0.48, 0.8)), 0.0, 1.0));
gl_FragColor = vec4(colour.rgb * l * colour.a, colour.a); }`;

export function createScene(canvas, rig, { reach = 0.92, stars = null, dome = 1.7, look = 0.7 } = {}) {
  let gl = null;
  try {
    gl = canvas.getContext("webgl", { antialias: true, alpha: false, powerPreference: "low-power" });
  } catch {
    return null;
  }
  if (!gl) return null;
  const shader = (kind, text) => {
    const s = gl.createShader(kind);
    gl.shaderSource(s, text);
    gl.compileShader(s);
    return s;
  };
  const program = gl.createProgram();
  gl.attachShader(program, shader(gl.VERTEX_SHADER, VERTEX));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER, FRAGMENT));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return null;
  gl.useProgram(program);
  const at = Object.fromEntries(
    ["view", "turn", "at", "colour", "dark", "ink", "floor_"].map((name) => [
      name,
      gl.getUniformLocation(program, name),
    ]),
  );
  const places = ["p", "n", "o"].map((name) => gl.getAttribLocation(program, name));
  const store = (mesh) => ({
    count: mesh.positions.length / 3,
    buffers: [mesh.positions, mesh.normals, mesh.outs].map((data) => {
      const b = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, b);
      gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(data), gl.STATIC_DRAW);
      return b;
    }),
  });
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
  canvas.addEventListener("webglcontextlost", (event) => {
    event.preventDefault();
    lost = true;
    tell();
  });

  function merged(meshes) {
    const all = { positions: [], normals: [], outs: [] };
    for (const m of meshes) for (const k of Object.keys(all)) all[k].push(...m[k]);
    return all;
  }
  function camera() {
    const far_ = stars ? 5.4 : 3.15,
      target = [0, 0, stars ? 0.62 : rig.hinge_height_m * look];
    const from = add(target, [
      far_ * Math.cos(state.tilt) * Math.sin(state.heading),
      far_ * Math.cos(state.tilt) * Math.cos(state.heading),
      far_ * Math.sin(state.tilt),
    ]);
    const f = unit(sub(target, from)),
      s = unit(cross(f, [0, 0, 1])),
      u = cross(s, f);
    const wide = canvas.width / canvas.height,
      k = 1 / Math.tan(0.36) / Math.max(1, 0.95 / wide),
      near = 0.2,
      end = 14;
    const v = [
      s[0],
      u[0],
      -f[0],
      0,
      s[1],
      u[1],
      -f[1],
      0,
      s[2],
      u[2],
      -f[2],
      0,
      -dot(s, from),
      -dot(u, from),
      dot(f, from),
      1,
    ];
    const p = [
        k / wide,
        0,
        0,
        0,
        0,
        k,
        0,
        0,
        0,
        0,
        (end + near) / (near - end),
        -1,
        0,
        0,
        (2 * end * near) / (near - end),
        0,
      ],
      m = new Float32Array(16);
    for (let c = 0; c < 4; c += 1)
      for (let r = 0; r < 4; r += 1) for (let i = 0; i < 4; i += 1) m[c * 4 + r] += p[i * 4 + r] * v[c * 4 + i];
    return m;
  }
  function show(mesh, turn, origin, colour, { alpha = 1, dark = 1, ink = 0 } = {}) {
    mesh.buffers.forEach((b, i) => {
      if (places[i] < 0) return;
      gl.bindBuffer(gl.ARRAY_BUFFER, b);
      gl.enableVertexAttribArray(places[i]);
      gl.vertexAttribPointer(places[i], 3, gl.FLOAT, false, 0, 0);
    });
    gl.uniformMatrix3fv(at.turn, false, new Float32Array(turn.flat()));
    gl.uniform3fv(at.at, origin);
    gl.uniform4f(at.colour, ...colour, alpha);
    gl.uniform1f(at.dark, dark);
    gl.uniform2f(at.ink, (2 * ink) / canvas.width, (2 * ink) / canvas.height);
    gl.drawArrays(gl.TRIANGLES, 0, mesh.count);
  }
  // Ink is the back of the part, pushed out: it shows only around the edge.
  function inked(mesh, turn, origin, fill, ink, width, { alpha = 1, dark = 1 } = {}) {
    gl.enable(gl.CULL_FACE);
    gl.cullFace(gl.FRONT);
    show(mesh, turn, origin, ink, { ink: width, alpha: Math.min(1, alpha * 2.6) });
    gl.cullFace(gl.BACK);
    show(mesh, turn, origin, fill, { dark, alpha });
    gl.disable(gl.CULL_FACE);
  }
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
    gl.viewport(0, 0, w, h);
    gl.clearColor(...theme.back, 1);
    gl.enable(gl.DEPTH_TEST);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.uniformMatrix4fv(at.view, false, camera());
    gl.uniform1f(at.floor_, -1);
    const pose = framesOf(rig, state.latitude, state.end, state.swing);
    show(ground, still, [0, 0, -0.004], theme.ground);
    show(marks, still, [0, 0, 0], theme.ink);
    const line = [pose.turn[1], pose.centre];
    if (stars) gl.uniform1f(at.floor_, 0.004);
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
    gl.uniform1f(at.floor_, -1);
    rigAt(pose);
    if (state.ghost) {
      gl.enable(gl.BLEND);
      gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
      rigAt(framesOf(rig, state.latitude, state.ghost.tubeEndH, state.ghost.swing), true);
      gl.disable(gl.BLEND);
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

// Dragging (and the arrow keys) walk around the rig.
export function walkAround(canvas, scenes) {
  let last = null;
  const turn = (dx, dy) => {
    for (const scene of scenes()) scene?.turn(dx, dy);
  };
  canvas.tabIndex = 0;
  canvas.addEventListener("pointerdown", (event) => {
    last = [event.clientX, event.clientY];
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!last) return;
    turn((event.clientX - last[0]) * 0.008, (event.clientY - last[1]) * 0.006);
    last = [event.clientX, event.clientY];
  });
  for (const end of ["pointerup", "pointercancel"])
    canvas.addEventListener(end, () => {
      last = null;
    });
  canvas.addEventListener("keydown", (event) => {
    const way = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, 0.08], ArrowDown: [0, -0.08] }[event.key];
    if (way) {
      event.preventDefault();
      turn(...way);
    }
  });
}
