// Of which triangles is a rod, a disc or a stroke made? Positions, normals for light, and the way
// in which a vertex is pushed out to draw the ink around it.

import { add, cross, scale, sub, unit } from "./frames.js";

const ROUND = 24;
/** @typedef {{ positions: number[], normals: number[], outs: number[] }} Mesh */

/** @type {() => Mesh} */
const empty = () => ({ positions: [], normals: [], outs: [] });
/** @type {(mesh: Mesh, p: number[], n: number[], o: number[]) => void} */
function push(mesh, p, n, o) {
  mesh.positions.push(...p);
  mesh.normals.push(...n);
  mesh.outs.push(...o);
}

// A rod with round or flat ends; with `tip` a cone that ends in a point.
/** @type {(start: number[], end: number[], radius: number, flat: boolean, tip?: boolean, sides?: number) => Mesh} */
export function rod(start, end, radius, flat, tip = false, sides = ROUND) {
  const axis = sub(end, start),
    along = Math.hypot(...axis) > 1e-9 ? unit(axis) : [0, 0, 1];
  const side = unit(cross(along, Math.abs(along[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0])),
    up = cross(along, side);
  const rings = [],
    ring = (centre, r, slope, out = slope) => rings.push({ centre, r, slope, out });
  if (tip) {
    ring(start, 0, -1);
    ring(start, radius, -1, -0.7);
    ring(start, radius, 0.3, -0.7);
    ring(end, 0, 0.3, 1);
  } else if (flat) {
    ring(start, 0, -1);
    ring(start, radius, -1, -0.7);
    ring(start, radius, 0, -0.7);
    ring(end, radius, 0, 0.7);
    ring(end, radius, 1, 0.7);
    ring(end, 0, 1);
  } else {
    const steps = [1, 2, 3].map((k) => (k * Math.PI) / 8);
    ring(add(start, scale(along, -radius)), 0, -1);
    for (const a of steps) ring(add(start, scale(along, -radius * Math.cos(a))), radius * Math.sin(a), -Math.cos(a));
    ring(start, radius, 0);
    ring(end, radius, 0);
    for (const a of steps.slice().reverse())
      ring(add(end, scale(along, radius * Math.cos(a))), radius * Math.sin(a), Math.cos(a));
    ring(add(end, scale(along, radius)), 0, 1);
  }
  const mesh = empty(),
    lean = (out, s) => add(scale(out, Math.sqrt(Math.max(0, 1 - s * s))), scale(along, s));
  const vertex = (k, i) => {
    const a = (2 * Math.PI * i) / sides,
      out = add(scale(side, Math.cos(a)), scale(up, Math.sin(a)));
    push(mesh, add(rings[k].centre, scale(out, rings[k].r)), lean(out, rings[k].slope), lean(out, rings[k].out));
  };
  for (let k = 0; k + 1 < rings.length; k += 1)
    for (let i = 0; i < sides; i += 1)
      for (const [kk, ii] of [
        [k, i],
        [k + 1, i + 1],
        [k + 1, i],
        [k, i],
        [k, i + 1],
        [k + 1, i + 1],
      ])
        vertex(kk, ii);
  return mesh;
}

// A round ground; strokes lie on it like ink.
/** @type {(radius: number, z?: number) => Mesh} */
export function disc(radius, z = 0) {
  const mesh = empty();
  for (let i = 0; i < 72; i += 1) {
    const [a, b] = [i, i + 1].map((k) => (k * Math.PI) / 36);
    for (const p of [
      [0, 0, z],
      [radius * Math.cos(a), radius * Math.sin(a), z],
      [radius * Math.cos(b), radius * Math.sin(b), z],
    ])
      push(mesh, p, [0, 0, 1], [0, 0, 1]);
  }
  return mesh;
}
/** @type {(segments: number[][][], width: number) => Mesh} */
export function strokes(segments, width) {
  const mesh = empty();
  for (const [a, b] of segments) {
    const s = scale(unit(cross(sub(b, a), [0, 0, 1])), width / 2);
    for (const p of [add(a, s), sub(a, s), sub(b, s), add(a, s), sub(b, s), add(b, s)])
      push(mesh, p, [0, 0, 1], [0, 0, 1]);
  }
  return mesh;
}
const LETTERS = {
  N: [
    [
      [0, 0],
      [0, 1],
    ],
    [
      [0, 1],
      [0.7, 0],
    ],
    [
      [0.7, 0],
      [0.7, 1],
    ],
  ],
  E: [
    [
      [0, 0],
      [0, 1],
    ],
    [
      [0, 1],
      [0.6, 1],
    ],
    [
      [0, 0.5],
      [0.5, 0.5],
    ],
    [
      [0, 0],
      [0.6, 0],
    ],
  ],
  S: [
    [
      [0, 0.12],
      [0.3, 0],
    ],
    [
      [0.3, 0],
      [0.6, 0.2],
    ],
    [
      [0.6, 0.2],
      [0.05, 0.75],
    ],
    [
      [0.05, 0.75],
      [0.3, 1],
    ],
    [
      [0.3, 1],
      [0.58, 0.9],
    ],
  ],
  W: [
    [
      [0, 1],
      [0.2, 0],
    ],
    [
      [0.2, 0],
      [0.42, 0.8],
    ],
    [
      [0.42, 0.8],
      [0.64, 0],
    ],
    [
      [0.64, 0],
      [0.84, 1],
    ],
  ],
};
// Compass marks every ten degrees and the four letters, on the ground.
/** @type {[string, number, number][]} */
const QUARTERS = [
  ["N", 0, 1],
  ["E", 1, 0],
  ["S", 0, -1],
  ["W", -1, 0],
];
/** @type {(radius: number) => Mesh} */
export function compass(radius) {
  const segments = [],
    z = 0.003;
  for (let a = 0; a < 360; a += 10) {
    const s = Math.sin((a * Math.PI) / 180),
      c = Math.cos((a * Math.PI) / 180),
      inner = radius * (a % 90 === 0 ? 0.9 : a % 30 === 0 ? 0.94 : 0.97);
    segments.push([
      [inner * s, inner * c, z],
      [radius * s, radius * c, z],
    ]);
  }
  for (let i = 0; i < 72; i += 1)
    segments.push(
      [i, i + 1].map((k) => [radius * Math.sin((k * Math.PI) / 36), radius * Math.cos((k * Math.PI) / 36), z]),
    );
  const size = radius * 0.085;
  for (const [letter, x, y] of QUARTERS)
    for (const stroke of LETTERS[letter])
      segments.push(
        stroke.map(([u, v]) => [x * radius * 0.82 + (u - 0.35) * size, y * radius * 0.82 + (v - 0.5) * size, z]),
      );
  return strokes(segments, radius * 0.012);
}
// Small discs on a sphere about the origin that face its middle: [x, y, z, size].
/** @type {(stars: number[][]) => Mesh} */
export function dots(stars) {
  const mesh = empty();
  for (const [x, y, z, size] of stars) {
    const n = unit([x, y, z]),
      s = unit(cross(n, Math.abs(n[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0])),
      u = cross(n, s);
    const rim = (i) =>
      add([x, y, z], scale(s, size * Math.cos((i * Math.PI) / 4)), scale(u, size * Math.sin((i * Math.PI) / 4)));
    for (let i = 0; i < 8; i += 1) for (const p of [[x, y, z], rim(i), rim(i + 1)]) push(mesh, p, scale(n, -1), n);
  }
  return mesh;
}
