// Without WebGL the machine draws the same pose from the side.

import { $, failed, put } from "../shared/page.js";
import { drawingFrom } from "../shared/drawing.js";
import { ask } from "../shared/link.js";

const drawn = {};
/** @type {(name: string, pose: { end: number, swing: number }, touching: string[]) => Promise<void>} */
export async function flat(name, pose, touching) {
  const key = `${pose.end.toFixed(1)}|${pose.swing.toFixed(0)}|${touching}`,
    figure = $(`[data-side="${name}"]`);
  if (drawn[name] === key) return;
  drawn[name] = key;
  try {
    const found = await ask("rig/side", {
      tube_end_h: pose.end.toFixed(3),
      swing_deg: pose.swing.toFixed(2),
      touching: touching.join("|"),
    });
    $("canvas", figure).hidden = true;
    put($(".flat", figure), drawingFrom(found.drawing)).hidden = false;
  } catch (error) {
    failed(error);
  }
}
