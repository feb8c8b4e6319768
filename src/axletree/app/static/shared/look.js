// From where is the rig looked at? The camera's matrix, and the hand that walks around.

import { add, cross, dot, sub, unit } from "./frames.js";

// Whoever looks stands `far_` metres from a point on the axis at `height` metres, in the direction
// `heading` and as high as `tilt` says, both in radians; `wide` is width over height.
export function camera({ far_, height, heading, tilt, wide }) {
  const target = [0, 0, height];
  const from = add(target, [
    far_ * Math.cos(tilt) * Math.sin(heading),
    far_ * Math.cos(tilt) * Math.cos(heading),
    far_ * Math.sin(tilt),
  ]);
  const f = unit(sub(target, from)),
    s = unit(cross(f, [0, 0, 1])),
    u = cross(s, f);
  const k = 1 / Math.tan(0.36) / Math.max(1, 0.95 / wide),
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
