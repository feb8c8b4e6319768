// How does the rig stand? A small WebGL picture of its parts: rods, a ground, the polar axis.
// One interface: createScene(canvas, rig) -> { setAngles, setLatitude, setTheme, setTouching,
// setGhost, turn, draw } or null where the browser has no WebGL. Frames as in mount/kinematics:
// columns are local coordinates, x east, y north, z up; the rig comes as plain JSON from Python.

const THEMES = {
  day: { ground: [0.86, 0.83, 0.76], back: [0.984, 0.972, 0.945], steel: [0.36, 0.35, 0.33],
         brass: [0.66, 0.52, 0.2], tube: [0.9, 0.87, 0.8], touch: [0.75, 0.2, 0.12], line: [0.3, 0.28, 0.25] },
  dusk: { ground: [0.2, 0.19, 0.18], back: [0.1, 0.095, 0.09], steel: [0.55, 0.53, 0.5],
          brass: [0.75, 0.6, 0.26], tube: [0.75, 0.72, 0.66], touch: [0.95, 0.4, 0.3], line: [0.7, 0.66, 0.6] },
  red: { ground: [0.22, 0, 0], back: [0, 0, 0], steel: [0.5, 0, 0], brass: [0.85, 0, 0],
         tube: [1, 0, 0], touch: [1, 0, 0], line: [0.7, 0, 0] },
};
const VERTEX = `attribute vec3 p; attribute vec3 n; uniform mat4 view; uniform mat3 turn;
uniform vec3 at; varying vec3 normal; void main() { normal = turn * n;
gl_Position = view * vec4(turn * p + at, 1.0); }`;
const FRAGMENT = `precision mediump float; varying vec3 normal; uniform vec4 colour; uniform float flatness;
void main() { float light = mix(0.45 + 0.55 * max(dot(normalize(normal), vec3(0.36, -0.48, 0.8)), 0.0), 1.0, flatness);
gl_FragColor = vec4(colour.rgb * light * colour.a, colour.a); }`;

const sub = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const scale = (a, s) => [a[0] * s, a[1] * s, a[2] * s];
const add = (...v) => v.reduce((a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
const unit = (a) => scale(a, 1 / (Math.hypot(...a) || 1));

// A rod with round or flat ends as triangles: positions and normals.
function rod(start, end, radius, flat) {
  const axis = sub(end, start), along = Math.hypot(...axis) > 1e-9 ? unit(axis) : [0, 0, 1];
  const side = unit(cross(along, Math.abs(along[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0])), up = cross(along, side);
  const rings = [];
  const steps = flat ? [] : [1, 2, 3].map((k) => (k * Math.PI) / 8);
  const ring = (centre, r, slope) => rings.push({ centre, r, slope });
  if (flat) { ring(start, 0, -1); ring(start, radius, -1); ring(start, radius, 0); ring(end, radius, 0); ring(end, radius, 1); ring(end, 0, 1); }
  else {
    ring(add(start, scale(along, -radius)), 0, -1);
    for (const a of steps) ring(add(start, scale(along, -radius * Math.cos(a))), radius * Math.sin(a), -Math.cos(a));
    ring(start, radius, 0); ring(end, radius, 0);
    for (const a of steps.slice().reverse()) ring(add(end, scale(along, radius * Math.cos(a))), radius * Math.sin(a), Math.cos(a));
    ring(add(end, scale(along, radius)), 0, 1);
  }
  const sides = 20, positions = [], normals = [];
  const vertex = (k, i) => {
    const a = (2 * Math.PI * i) / sides, out = add(scale(side, Math.cos(a)), scale(up, Math.sin(a)));
    positions.push(...add(rings[k].centre, scale(out, rings[k].r)));
    normals.push(...add(scale(out, Math.sqrt(Math.max(0, 1 - rings[k].slope ** 2))), scale(along, rings[k].slope)));
  };
  for (let k = 0; k + 1 < rings.length; k += 1)
    for (let i = 0; i < sides; i += 1)
      for (const [kk, ii] of [[k, i], [k + 1, i], [k + 1, i + 1], [k, i], [k + 1, i + 1], [k, i + 1]]) vertex(kk, ii);
  return { positions, normals };
}

// The four frames of a pose: matrices (columns x, y, z) and origins, from the two axis angles.
export function framesOf(rig, axisAltitudeDeg, tubeEndH, swingDeg) {
  const sense = rig.latitude_deg >= 0 ? 1 : -1, alt = (axisAltitudeDeg * Math.PI) / 180;
  const pole = [0, sense * Math.cos(alt), Math.sin(alt)];
  const meridian = [0, -sense * Math.sin(alt), Math.cos(alt)], west = [-1, 0, 0];
  const h = (tubeEndH * Math.PI) / 12, psi = (swingDeg * Math.PI) / 180;
  const D = add(scale(meridian, Math.cos(h)), scale(west, Math.sin(h))), Q = cross(pole, D);
  const T = add(scale(Q, Math.sin(psi)), scale(pole, Math.cos(psi)));
  const U = sub(scale(Q, Math.cos(psi)), scale(pole, Math.sin(psi)));
  const centre = add([0, 0, rig.hinge_height_m], scale(pole, rig.crossing_along_m), scale(meridian, rig.crossing_above_m));
  return { pole, centre, at: [[0, 0, 0], centre, centre, centre],
    turn: [[[1, 0, 0], [0, 1, 0], [0, 0, 1]], [meridian, cross(pole, meridian), pole], [D, Q, pole], [D, U, T]] };
}

export function createScene(canvas, rig) {
  const gl = canvas.getContext("webgl", { antialias: true, alpha: false });
  if (!gl) return null;
  const shader = (kind, text) => { const s = gl.createShader(kind); gl.shaderSource(s, text); gl.compileShader(s); return s; };
  const program = gl.createProgram();
  gl.attachShader(program, shader(gl.VERTEX_SHADER, VERTEX));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER, FRAGMENT));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return null;
  gl.useProgram(program);
  const place = (name) => gl.getUniformLocation(program, name);
  const at = { view: place("view"), turn: place("turn"), at: place("at"), colour: place("colour"), flatness: place("flatness") };
  const store = (positions, normals) => {
    const buffers = [positions, normals].map((data) => { const b = gl.createBuffer(); gl.bindBuffer(gl.ARRAY_BUFFER, b);
      gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(data), gl.STATIC_DRAW); return b; });
    return { buffers, count: positions.length / 3 };
  };
  const parts = rig.parts.map((part) => { const mesh = rod(part.start_m, part.end_m, part.radius_m, part.flat); return { ...part, ...store(mesh.positions, mesh.normals) }; });
  const disc = [], compass = [];
  for (let i = 0; i < 60; i += 1) {
    const [a, b] = [i, i + 1].map((k) => (k * Math.PI) / 30);
    disc.push(0, 0, -0.002, 1.3 * Math.cos(a), 1.3 * Math.sin(a), -0.002, 1.3 * Math.cos(b), 1.3 * Math.sin(b), -0.002);
    const inner = i % 15 === 0 ? 1.05 : 1.22;
    compass.push(inner * Math.sin(a), inner * Math.cos(a), 0.002, 1.3 * Math.sin(a), 1.3 * Math.cos(a), 0.002);
  }
  compass.push(-0.06, 1.12, 0.002, 0, 1.28, 0.002, 0.06, 1.12, 0.002, 0, 1.28, 0.002);
  const upright = (data) => data.map((_, i) => (i % 3 === 2 ? 1 : 0));
  const ground = store(disc, upright(disc)), marks = store(compass, upright(compass));
  const axisLine = store([0, 0, -0.35, 0, 0, 1.25], [0, 0, 1, 0, 0, 1]);
  const state = { tubeEndH: 0, swing: 0, altitude: Math.abs(rig.latitude_deg), theme: "day", touching: new Set(), ghost: null, heading: 2.2, tilt: 0.28 };

  function camera() {
    const reach = 3.3, look = [0, 0, rig.hinge_height_m * 0.9];
    const eye = add(look, [reach * Math.cos(state.tilt) * Math.sin(state.heading), reach * Math.cos(state.tilt) * Math.cos(state.heading), reach * Math.sin(state.tilt)]);
    const f = unit(sub(look, eye)), s = unit(cross(f, [0, 0, 1])), u = cross(s, f);
    const wide = canvas.width / canvas.height, k = 1 / Math.tan(0.36) / Math.max(1, 0.92 / wide), near = 0.2, far = 12;
    const v = [s[0], u[0], -f[0], 0, s[1], u[1], -f[1], 0, s[2], u[2], -f[2], 0, -dot(s, eye), -dot(u, eye), dot(f, eye), 1];
    const p = [k / wide, 0, 0, 0, 0, k, 0, 0, 0, 0, (far + near) / (near - far), -1, 0, 0, (2 * far * near) / (near - far), 0];
    const m = new Float32Array(16);
    for (let c = 0; c < 4; c += 1) for (let r = 0; r < 4; r += 1) for (let i = 0; i < 4; i += 1) m[c * 4 + r] += p[i * 4 + r] * v[c * 4 + i];
    return m;
  }
  function show(mesh, turn, origin, colour, alpha, flatness, mode) {
    mesh.buffers.forEach((b, i) => { gl.bindBuffer(gl.ARRAY_BUFFER, b); const l = gl.getAttribLocation(program, i ? "n" : "p"); if (l >= 0) { gl.enableVertexAttribArray(l); gl.vertexAttribPointer(l, 3, gl.FLOAT, false, 0, 0); } });
    gl.uniformMatrix3fv(at.turn, false, new Float32Array(turn.flat()));
    gl.uniform3fv(at.at, origin); gl.uniform4f(at.colour, ...colour, alpha); gl.uniform1f(at.flatness, flatness);
    gl.drawArrays(mode, 0, mesh.count);
  }
  function rigAt(pose, alpha) {
    const theme = THEMES[state.theme];
    for (const part of parts) {
      if (alpha < 1 && part.frame < 2) continue;
      const colour = state.touching.has(part.name) && alpha === 1 ? theme.touch : part.frame < 2 ? theme.steel : part.frame === 2 ? theme.brass : theme.tube;
      show(part, pose.turn[part.frame], pose.at[part.frame], colour, alpha, 0, gl.TRIANGLES);
    }
  }
  function draw() {
    const ratio = Math.min(window.devicePixelRatio || 1, 2), w = Math.round(canvas.clientWidth * ratio), h = Math.round(canvas.clientHeight * ratio);
    if (!w || !h) return;
    if (canvas.width !== w || canvas.height !== h) { canvas.width = w; canvas.height = h; }
    const theme = THEMES[state.theme], still = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];
    gl.viewport(0, 0, w, h); gl.clearColor(...theme.back, 1); gl.enable(gl.DEPTH_TEST); gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.uniformMatrix4fv(at.view, false, camera());
    const pose = framesOf(rig, state.altitude, state.tubeEndH, state.swing);
    show(ground, still, [0, 0, 0], theme.ground, 1, 1, gl.TRIANGLES);
    show(marks, still, [0, 0, 0], theme.line, 1, 1, gl.LINES);
    show(axisLine, pose.turn[1], pose.centre, theme.line, 1, 1, gl.LINES);
    rigAt(pose, 1);
    if (state.ghost) {
      gl.enable(gl.BLEND); gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA); gl.depthMask(false);
      rigAt(framesOf(rig, state.altitude, state.ghost.tubeEndH, state.ghost.swing), 0.22);
      gl.depthMask(true); gl.disable(gl.BLEND);
    }
  }
  let waiting = 0;
  const soon = () => { if (!waiting) waiting = requestAnimationFrame(() => { waiting = 0; draw(); }); };
  return {
    setAngles(tubeEndH, swing) { state.tubeEndH = tubeEndH; state.swing = swing; soon(); },
    setLatitude(deg) { state.altitude = Math.abs(deg); soon(); },
    setTheme(name) { state.theme = name in THEMES ? name : "day"; soon(); },
    setTouching(names) { state.touching = new Set(names); soon(); },
    setGhost(pose) { state.ghost = pose; soon(); },
    turn(dx, dy) { state.heading += dx; state.tilt = Math.min(1.4, Math.max(-0.05, state.tilt + dy)); soon(); },
    draw: soon,
  };
}
