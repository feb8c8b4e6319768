// Which rows has the rule of time: setting up, what was ticked off, the stops to come?

import { page } from "../shared/page.js";
import * as say from "../words/evening.js";
import { LONG_WAIT_MS, ms } from "./evening_hand.js";

export function rowsOf(data, { done, stops, hand, current, chosen }) {
  const rows = [];
  if (!done.length)
    for (const g of data.stages.filter((x) => x.name !== "cool"))
      rows.push({
        key: `stage ${g.name}`,
        from: ms(g.begin),
        to: ms(g.end),
        title: g.name,
        under: say.SETTING_UP,
        state: hand.stage?.name === g.name ? "now" : "",
      });
  for (const t of done) {
    const end = ms(t.at),
      begin = t.planned ? Math.min(ms(t.planned.begin), end - 60000) : end - 60000;
    rows.push({
      key: `tick ${t.uid}`,
      from: Math.max(begin, end - 3600000),
      to: end,
      title: t.name,
      tag: say.tick(t),
      under: t.note,
      state: t.state === "done" ? "past" : "skipped",
    });
  }
  stops.forEach((s, i) => {
    const gap = i ? ms(s.begin) - ms(stops[i - 1].end) : 0,
      wait = gap > LONG_WAIT_MS ? gap / 1000 : 0;
    const over = i > 0 && stops[i - 1].chosen.side !== s.chosen.side;
    rows.push({
      key: s.catalogue_id,
      from: ms(s.begin),
      to: ms(s.end),
      title: s.name,
      tag: say.tag(s, over),
      under: say.row(s, done.length + i + 1, wait, page.zone),
      state: s.catalogue_id === chosen ? "chosen" : s.catalogue_id === current ? "now" : "",
      grip: true,
    });
  });
  // The pole may be set between two stops.
  return rows.sort((a, b) => a.from - b.from);
}
