// Where must the pole star sit, now?

import { make, paragraph, refresh } from "./dom.js";
import { guideHour, makeDial } from "./dial.js";
import { degrees, faceWords } from "./words.js";

export function makePole(field) {
  const { sheet, night, zone } = field,
    view = sheet.tables.pole,
    pole = sheet.evening.pole,
    element = make("div", { class: "leaf" }),
    parts = {};
  const dial = makeDial(view, night, zone),
    wide = makeDial(view, night, zone, true);
  for (const part of ["head", "count", "drawing", "beware", "more", "guides", "whole"]) {
    parts[part] = make("section", { class: `part part-${part}` });
    element.append(parts[part]);
  }
  const look = {
    erect: "as the bare eye sees it",
    inverted: "upside down, as the scope shows it",
    mirrored: "mirrored, as the scope shows it",
  }[view.look];
  function show(now) {
    const star = night.poleStar(now),
      face = faceWords(star.hour);
    refresh(parts.head, ["pole"], () => [make("h1", { class: "step" }, `${view.star} in the view along the axis`)]);
    refresh(parts.count, [face, star.away.toFixed(1)], () => [
      make("b", {}, face),
      make("span", {}, `on the clock face, ${star.away.toFixed(1)}′ from the middle`),
    ]);
    refresh(parts.drawing, ["dial"], () => dial.element);
    dial.move(now);
    refresh(parts.beware, ["clear"], () =>
      pole.skyline_clear
        ? []
        : [
            make(
              "p",
              { class: "caution" },
              "From here the pole star is behind the skyline: finish with the drift of two stars.",
            ),
          ],
    );
    refresh(parts.more, ["more"], () => [
      make(
        "dl",
        { class: "big" },
        make("div", {}, make("dt", {}, "latitude scale"), make("dd", {}, degrees(pole.latitude_scale_deg))),
        make("div", {}, make("dt", {}, "pole's height"), make("dd", {}, degrees(pole.pole_altitude_deg, 2))),
      ),
      paragraph(
        `Twelve is up; the picture is ${look}${view.rotation_deg ? `, turned by ${view.rotation_deg}°` : ""}. The small rings are its places in one and in two hours.`,
        { class: "faint" },
      ),
    ]);
    refresh(parts.whole, ["whole"], () => [
      make("h2", {}, `The whole field, ${view.field_deg.toFixed(0)}° wide, to know it by`),
      wide.element,
    ]);
    wide.move(now);
    const minute = Math.floor(now / 60);
    refresh(parts.guides, [minute], () =>
      view.guides.map((g) =>
        paragraph(`${g.name} lies from the pole towards ${faceWords(guideHour(g, night, now))} in this picture.`, {
          class: "faint",
        }),
      ),
    );
  }
  return { element, show, acts: () => [] };
}
