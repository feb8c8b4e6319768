// What can be shown of a night while its plan is made: its times and a first order, nothing to press.

import { $, $$, now, page, put } from "../shared/page.js";
import { timeline } from "../shared/timeline.js";
import * as say from "../words/evening.js";
import { ms } from "./evening_hand.js";
import { tellPlanning } from "./evening_now.js";

// What stands beside the plan is of another night until the plan is made.
const OF_THE_PLAN =
  "#strip, #lost, #spares, #look-up, #stages, #cautions, #assumed, #given-up, #closed, #said, #beware";

function tell(found) {
  for (const part of $$(OF_THE_PLAN)) put(part);
  $("#as-kit").hidden = true;
  $("#rehearse").href = `/rehearse?day=${found.date}`;
  put("#order-words", say.FIRST_ORDER);
  tellPlanning(found.date_words, say.firstOrder(found, page.zone));
}

export function firstRule(found) {
  const rows = [
    ...found.stages
      .filter((x) => x.name !== "cool")
      .map((g) => ({ key: `stage ${g.name}`, from: ms(g.begin), to: ms(g.end), title: g.name, under: say.SETTING_UP })),
    ...found.stops.map((s) => ({
      key: s.key,
      from: ms(s.begin),
      to: ms(s.end),
      title: s.name,
      tag: say.firstTag(s),
      under: say.firstRow(s),
    })),
  ].sort((a, b) => a.from - b.from);
  const rule = timeline({
    rows,
    breaks: found.breaks.map(([a, b]) => [ms(a), ms(b)]),
    zone: page.zone,
    canMove: false,
    onchoose() {},
    onmove() {},
  });
  for (const button of rule.element.querySelectorAll("button")) button.disabled = true;
  put("#drawing", rule.element);
  rule.settle();
  rule.now(now().getTime());
  tell(found);
  return rule;
}
