// Which part of the rig is meant? Its drawing with a name for each part, joined to it by a line; a
// tap on the part or on its name opens it.

import { $, make, put } from "../shared/page.js";
import { circle, el, HAIR, INK, line, placeIn } from "../shared/pen.js";
import * as say from "../words/kit.js";

const SIZE = 640; // of the machine's drawing
const narrow = matchMedia("(max-width: 899px)");
/** @typedef {{ path: string, bad: boolean, guessed: number, there: boolean }} Row */
/** @type {{ parts: Row[], plate: any, group: string, open: (path: string, tapped?: boolean) => void }} */
let shown = { parts: [], plate: null, group: "", open: () => {} };

// `parts`: rows of path, bad, guessed, there; `plate`: where each sits, and the box around the rig.
export function showPlate(parts, given) {
  shown = { parts, ...given };
  const at = (r) => shown.plate.points[r.path],
    across = [...parts].sort((a, b) => at(a)[0] - at(b)[0]),
    half = Math.ceil(parts.length / 2),
    down = (rows) => rows.sort((a, b) => at(a)[1] - at(b)[1]);
  const focused = document.activeElement?.getAttribute("data-part");
  put("#parts-left", ...down(across.slice(0, half)).map(row));
  put("#parts-right", ...down(across.slice(half)).map(row));
  if (focused) $(`#plate [data-part="${focused}"]`)?.focus();
  requestAnimationFrame(settle);
}
function row(r) {
  const note = r.bad ? say.TO_MEND : !r.there ? say.NONE_THERE : r.guessed ? say.ownGuessed(r.guessed) : "";
  return make(
    "li",
    {},
    make(
      "button",
      {
        type: "button",
        "data-part": r.path,
        class: r.bad ? "bad" : r.there ? "" : "absent",
        "aria-pressed": String(r.path === shown.group),
        onclick: () => shown.open(r.path, true),
      },
      say.short(r.path),
      note ? make("span", { class: r.bad ? "problem" : "guess" }, note) : "",
    ),
  );
}

// On a phone the whole rig fills the plate; while a part is open its measures need the full sheet.
function settle() {
  const { plate, parts, group } = shown,
    svg = $("#drawing svg");
  if (!plate || !svg) return put("#leaders");
  const whole = !narrow.matches || $(".sheet.kit").dataset.part === "open";
  svg.setAttribute("viewBox", whole ? `0 0 ${SIZE} ${SIZE}` : plate.box.join(" "));
  const frame = $("#plate").getBoundingClientRect(),
    drawing = svg.getScreenCTM();
  if (!frame.width || !drawing || !$("#parts-left").offsetWidth) return put("#leaders");
  const place = ([x, y]) => [drawing.a * x + drawing.e - frame.left, drawing.d * y + drawing.f - frame.top];
  const leaders = el("svg", { viewBox: `0 0 ${frame.width} ${frame.height}` });
  for (const r of parts) {
    const name = $(`#plate [data-part="${r.path}"]`)?.getBoundingClientRect();
    if (!name) continue;
    const [x, y] = place(plate.points[r.path]),
      left = name.left - frame.left < frame.width / 2,
      from = [(left ? name.right + 3 : name.left - 3) - frame.left, (name.top + name.bottom) / 2 - frame.top];
    const own = r.path === group,
      pen = own ? INK : HAIR;
    leaders.append(
      line(from[0], from[1], x, y, pen, own ? 1.8 : 1),
      circle(x, y, own ? 4 : 2.4, { fill: pen, stroke: "none" }),
    );
  }
  put("#leaders", leaders);
}
addEventListener("resize", settle);
$("#drawing").addEventListener("click", (event) => {
  const { plate, parts, open } = shown,
    svg = $("#drawing svg");
  if (!plate || !svg || !parts.length) return;
  const [x, y] = placeIn(svg, event),
    far = (r) => Math.hypot(plate.points[r.path][0] - x, plate.points[r.path][1] - y);
  open(parts.reduce((best, r) => (far(r) < far(best) ? r : best)).path, true);
});
