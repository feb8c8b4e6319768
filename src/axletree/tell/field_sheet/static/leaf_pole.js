// Where must the pole star sit, now?

import { make, paragraph, refresh } from "./dom.js";
import { guideHour, makeDial } from "./dial.js";
import * as say from "./field_words.js";
import { degrees, dialPlace } from "./words.js";

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
  function show(now) {
    const star = night.poleStar(now),
      face = dialPlace(star.hour);
    refresh(parts.head, ["pole"], () => [make("h1", { class: "step" }, say.alongAxis(view.star))]);
    refresh(parts.count, [face, star.away.toFixed(1)], () => [
      make("b", {}, face),
      make("span", {}, say.onTheFace(star.away, pole.still_point)),
    ]);
    refresh(parts.drawing, ["dial"], () => dial.element);
    dial.move(now);
    refresh(parts.beware, ["clear"], () =>
      pole.skyline_clear ? [] : [make("p", { class: "caution" }, say.POLE_HIDDEN)],
    );
    refresh(parts.more, ["more"], () => [
      make(
        "dl",
        { class: "big" },
        make("div", {}, make("dt", {}, say.LATITUDE_SCALE), make("dd", {}, degrees(pole.latitude_scale_deg))),
        make("div", {}, make("dt", {}, say.POLE_HEIGHT), make("dd", {}, degrees(pole.pole_altitude_deg, 2))),
      ),
      ...(pole.still_point ? [paragraph(say.STILL_POINT, {})] : []),
      paragraph(say.pictureOf(view), { class: "faint" }),
    ]);
    refresh(parts.whole, ["whole"], () => [make("h2", {}, say.wholeField(view)), wide.element]);
    wide.move(now);
    const minute = Math.floor(now / 60);
    refresh(parts.guides, [minute], () =>
      view.guides.map((g) =>
        paragraph(say.guide(g.name, guideHour(g, night, now)), {
          class: "faint",
        }),
      ),
    );
  }
  return { element, show, acts: () => [] };
}
