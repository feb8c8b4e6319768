// How does somebody stand whose eye is at the eyepiece? An outline in space, drawn from one side.

import { add, dot, scale } from "./frames.js";
import { rod } from "./rig_flat.js";
import { el, FAINT, PAPER, trace } from "./pen.js";

// Parts of a body's height (common practice of drawing, no source): eyes, hips, half a leg, the
// shoulders' part of the way from hips to eyes, and half the widths.
export const EYES = 0.935;
const HIPS = 0.52,
  HALF_LEG = 0.26,
  SHOULDERS = 0.72,
  WIDE = { trunk: 0.066, leg: 0.033, arm: 0.02, head: 0.055, hips: 0.042 };
// A back bends so far; beyond it the knees do (radians).
const MOST_LEAN = 1.0;

// Joints in local coordinates: eye, neck, hips, knee, foot, and the height of the body. `away` is the
// level direction from the eyepiece to the body, `stands` the height of what one stands on.
/**
 * @param {number[]} eye
 * @param {[number, number]} away
 * @param {{ least: number, most: number, stands: number }} heights eyes above the ground, in metres
 */
export function bodyAt(eye, away, { least, most, stands }) {
  const up = eye[2] - stands,
    own = Math.min(most, Math.max(least, up)),
    tall = own / EYES,
    long = own - HIPS * tall;
  const lean = up >= own ? 0 : Math.acos(Math.max(-1, Math.min(1, (up - HIPS * tall) / long)));
  const bent = Math.min(lean, MOST_LEAN),
    hip = Math.max(0.12 * tall, up - long * Math.cos(bent));
  const at = (back, z) => add([eye[0], eye[1], stands + z], scale([...away, 0], back));
  const hips = at(0.02 + long * Math.sin(bent), hip),
    shoulder = at(0.02 + long * (1 - SHOULDERS) * Math.sin(bent), hip + long * SHOULDERS * Math.cos(bent));
  const half = HALF_LEG * tall,
    out = Math.sqrt(Math.max(0, half * half - (hip / 2) ** 2));
  const knee = add(at(0.02 + long * Math.sin(bent), hip / 2), scale([...away, 0], -out)),
    foot = at(0.02 + long * Math.sin(bent), WIDE.leg * tall);
  return { eye, shoulder, hips, knee, foot, tall, across: [-away[1], away[0], 0] };
}

// The outline as one element, and how near to the reader it stands.
/** @type {(body: ReturnType<typeof bodyAt>, view: import("./rig_flat.js").View, how: { flat: (p: number[]) => [number, number], scale: number }, hand: number[]) => { depth: number, element: SVGElement }} */
export function personSeen(body, view, { flat, scale: k }, hand) {
  const pen = { stroke: FAINT, fill: PAPER, width: 1.6, slope: 0, flat: false },
    limb = (a, b, part) => rod(flat(a), flat(b), part * body.tall * k, pen);
  const back = body.hips.map((v, i) => v - body.eye[i]),
    level = Math.hypot(back[0], back[1]) || 1,
    behind = [(back[0] / level) * 0.055 * body.tall, (back[1] / level) * 0.055 * body.tall, 0.02 * body.tall];
  const head = flat(add(body.eye, behind));
  return {
    depth: dot(body.hips, view.near),
    element: el(
      "g",
      {},
      ...[-1, 1].flatMap((side) => {
        const [hips, knee, foot] = [body.hips, body.knee, body.foot].map((p) =>
          add(p, scale(body.across, side * WIDE.hips * body.tall)),
        );
        return [limb(knee, foot, WIDE.leg), limb(hips, knee, WIDE.leg * 1.2)];
      }),
      limb(body.hips, body.shoulder, WIDE.trunk),
      limb(body.shoulder, hand, WIDE.arm),
      el("ellipse", {
        cx: head[0],
        cy: head[1],
        rx: WIDE.head * body.tall * k,
        ry: WIDE.head * 1.25 * body.tall * k,
        fill: PAPER,
        stroke: FAINT,
        "stroke-width": 1.6,
      }),
    ),
  };
}

// What one stands on, `high` metres, below the feet.
/** @type {(foot: number[], high: number, how: { flat: (p: number[]) => [number, number], scale: number }) => SVGElement} */
export function stool(foot, high, { flat, scale: k }) {
  const [x, y] = flat([foot[0], foot[1], 0]),
    half = 0.2 * k;
  return el("path", {
    d: trace(
      [
        [x - half, y],
        [x - half, y - high * k],
        [x + half, y - high * k],
        [x + half, y],
      ],
      true,
    ),
    fill: PAPER,
    stroke: FAINT,
    "stroke-width": 1.6,
  });
}
