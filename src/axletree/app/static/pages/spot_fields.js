// What is known of the shape that is chosen, and what does a new one begin as?

import { $, make, put } from "../shared/page.js";
import { capital } from "../shared/words.js";
import * as say from "../words/spot.js";

const FIELDS = {
  tree: ["name", "height_m", "crown_radius_m", "crown_base_m", "trunk_radius_m"],
  wall: ["name", "height_m"],
  roof: ["name", "eaves_height_m", "ridge_height_m"],
  post: ["name", "height_m", "radius_m"],
  area: ["slope_percent", "downhill_azimuth_deg"],
};
const inUnits = (key, v, units) =>
  v === null || v === undefined ? "" : key.endsWith("_m") && units === "us" ? +(v / 0.3048).toFixed(2) : v;
// `drawn` draws the plan again, `moved` judges it again.
export function fields(plan, { chosen, units, choose, drawn, moved }) {
  if (!chosen) {
    put("#chosen");
    return;
  }
  const { kind, index } = chosen,
    shape = kind === "area" ? plan : kind === "keep_out" ? null : plan[kind]?.[index];
  if (kind !== "keep_out" && !shape) {
    choose(null);
    put("#chosen");
    return;
  }
  if ($("#chosen").dataset.of === `${kind}${index}` && $("#chosen").contains(document.activeElement)) return;
  $("#chosen").dataset.of = `${kind}${index}`;
  put(
    "#chosen",
    make("h2", {}, kind === "area" ? say.THE_GROUND : kind === "keep_out" ? say.KEPT_FREE : capital(shape.name)),
    make(
      "div",
      { class: "pair" },
      ...(FIELDS[kind] ?? []).map((key) => {
        const id = `yard-${key}`,
          problem = make("p", { class: "problem", id: `${id}-problem`, hidden: true });
        const input = make("input", {
          id,
          type: "text",
          autocomplete: "off",
          "aria-describedby": `${id}-problem`,
          maxlength: "60",
          onchange: (event) => {
            const text = event.target.value.trim();
            let value = text;
            if (key !== "name") {
              value = text === "" && key === "ridge_height_m" ? null : Number(text.replace(",", "."));
              if (value !== null && !Number.isFinite(value)) {
                put(problem, say.notANumber(text)).hidden = false;
                input.setAttribute("aria-invalid", "true");
                return;
              }
              if (value !== null && key.endsWith("_m") && units === "us") value *= 0.3048;
            }
            problem.hidden = true;
            input.removeAttribute("aria-invalid");
            shape[key] = value;
            drawn();
            moved(true);
          },
        });
        input.value = inUnits(key, shape[key], units);
        return make("div", {}, make("label", { for: id }, say.field(key, units)), input, problem);
      }),
    ),
    kind === "area"
      ? ""
      : make(
          "button",
          {
            type: "button",
            class: "wordy",
            onclick: () => {
              (kind === "keep_out" ? plan.keep_out_m : plan[kind]).splice(index, 1);
              choose(null);
              drawn();
              moved(true);
            },
          },
          say.TAKE_AWAY,
        ),
  );
}

// Another shape in the middle of the area; its place among its kind comes back.
export function add(plan, kind) {
  const xs = plan.area_m.map((p) => p[0]),
    ys = plan.area_m.map((p) => p[1]);
  const x = (Math.min(...xs) + Math.max(...xs)) / 2,
    y = (Math.min(...ys) + Math.max(...ys)) / 2;
  if (kind === "tree")
    plan.tree.push({
      name: say.NAMES.tree,
      x_m: x,
      y_m: y,
      height_m: 6,
      crown_radius_m: 2,
      crown_base_m: 2,
      trunk_radius_m: 0.2,
    });
  if (kind === "post") plan.post.push({ name: say.NAMES.post, x_m: x, y_m: y, height_m: 4, radius_m: 0.1 });
  if (kind === "wall")
    plan.wall.push({
      name: say.NAMES.wall,
      points_m: [
        [x - 2, y],
        [x + 2, y],
      ],
      height_m: 2,
    });
  if (kind === "roof")
    plan.roof.push({
      name: say.NAMES.roof,
      corners_m: [
        [x - 3, y - 2],
        [x + 3, y - 2],
        [x + 3, y + 2],
        [x - 3, y + 2],
      ],
      eaves_height_m: 3,
      ridge_height_m: null,
    });
  if (kind === "keep_out")
    plan.keep_out_m.push([
      [x - 1, y - 1],
      [x + 1, y - 1],
      [x + 1, y + 1],
      [x - 1, y + 1],
    ]);
  return { kind, index: (kind === "keep_out" ? plan.keep_out_m : plan[kind]).length - 1 };
}
