// How does the rig look from one side? Its rods as bands with their ends, the farthest first.

import { add, dot, framesOf, inFrame, sub } from "./frames.js";
import { BRASS, el, INK, PAPER } from "./pen.js";

/** @typedef {{ from: "east" | "behind", right: number[], near: number[] }} View what is right, what points to the reader */
/** @typedef {{ stroke: string, fill: string, width: number }} Look */

// From the east the pole is at the right in the north, at the left in the south; from behind one
// looks to the pole.
/** @type {(sense: number) => View[]} */
export const viewsOf = (sense) => [
  { from: "east", right: [0, 1, 0], near: [1, 0, 0] },
  { from: "behind", right: [sense, 0, 0], near: [0, -sense, 0] },
];

// How far and how high anything ever goes, so that every pose is drawn to one scale.
export function bounds(rig) {
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

// What stands still is inked, what turns is brass; the lens that the eye goes to is filled.
/** @type {(part: { frame: number, name: string }) => Look} */
export function usualLook(part) {
  const pen = part.frame < 2 ? INK : BRASS;
  return { stroke: pen, fill: /eyepiece|camera/.test(part.name) ? pen : PAPER, width: 1.4 };
}

// The rods of a pose as elements, each with how near it is to the reader; `look` may leave one out.
/**
 * @param {{ parts: any[] }} rig
 * @param {import("./frames.js").Frames} frames
 * @param {View} view
 * @param {{ flat: (p: number[]) => [number, number], scale: number, look?: (part: any, row: number) => Look | null }} how
 * @returns {{ depth: number, element: SVGElement }[]}
 */
export function rodsSeen(rig, frames, view, { flat, scale, look = usualLook }) {
  const rods = [];
  for (const [row, part] of rig.parts.entries()) {
    const pen = part.radius_m > 0 ? look(part, row) : null;
    if (!pen) continue;
    const a = inFrame(frames, part.frame, part.start_m),
      b = inFrame(frames, part.frame, part.end_m),
      along = sub(b, a);
    rods.push({
      depth: dot(add(a, b), view.near) / 2,
      element: rod(flat(a), flat(b), part.radius_m * scale, {
        slope: dot(along, view.near) / (Math.hypot(...along) || 1),
        flat: part.flat,
        ...pen,
      }),
    });
  }
  return rods.sort((x, y) => x.depth - y.depth);
}

// One band between two points of the drawing; `slope` 1 looks at its end from the reader's side.
/** @type {(a: number[], b: number[], radius: number, how: { slope: number, flat: boolean } & Look) => SVGElement} */
export function rod(a, b, r, { slope, flat, stroke, fill, width }) {
  const along = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1e-6,
    u = [(b[0] - a[0]) / along, (b[1] - a[1]) / along];
  const turn = (Math.atan2(u[1], u[0]) * 180) / Math.PI,
    cap = flat ? r * Math.abs(slope) : r,
    n = (v) => v.toFixed(2);
  const ink = { fill, stroke, "stroke-width": width };
  // Of a rod with flat ends the nearer one is seen whole.
  const face = flat
    ? el("ellipse", { cx: slope > 0 ? along : 0, cy: 0, rx: cap, ry: r, ...ink, "stroke-width": width * 0.7 })
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
