// What else has tonight: lost and spare objects, the set-up, what is assumed, given up or hidden?

import { send } from "../shared/link.js";
import { $, failed, list, make, notice, now, page, put } from "../shared/page.js";
import { capital, clock } from "../shared/words.js";
import * as say from "../words/evening.js";
import { ms, STEPS } from "./evening_hand.js";

const SAME_CLOCK_MS = 60_000;

export function beside(data, { putNext, open }) {
  const ahead = data.ticked.find((t) => ms(t.at) > now().getTime() + SAME_CLOCK_MS);
  notice("clock", ahead ? say.clockBack(ahead, page.zone) : "");
  $("#rehearse").href = `/rehearse?day=${data.date}`;
  put(
    "#lost",
    ...(data.lost.length
      ? [
          make("h2", {}, say.NO_PLACE),
          data.empty_because === "session over" && !data.broken.length
            ? make("p", {}, say.names(data.lost))
            : make(
                "ul",
                { class: "rows" },
                ...data.lost.map((g) =>
                  make(
                    "li",
                    {},
                    make("strong", {}, g.name),
                    capital(g.reason),
                    data.broken.includes(g.name) ? make("b", { class: "problem" }, say.WAS_PROMISED) : "",
                  ),
                ),
              ),
        ]
      : []),
  );
  list(
    "#spares",
    data.spares.map((o) => [
      make(
        "div",
        {},
        make("strong", {}, o.name),
        [o.also_called[0], o.kind].filter(Boolean).join(", "),
        make("br"),
        say.free(o, page.zone),
      ),
      make(
        "button",
        {
          type: "button",
          class: "plainly",
          disabled: !page.leads,
          "aria-label": say.showNext(o.name),
          onclick: () => putNext(o.key),
        },
        say.NEXT,
      ),
    ]),
  );
  if (!data.spares.length) put("#spares", make("li", {}, say.nothingElse(data.session)));
  put("#look-up", ...lookUp(data.satellites));
  list(
    "#stages",
    data.stages.map((g) => [
      make("strong", {}, clock(new Date(g.begin), page.zone)),
      STEPS[g.name] ? make("a", { href: STEPS[g.name] }, g.name) : g.name,
      say.stage(g),
      ...g.details.map((x) => make("span", { class: "faint" }, ` ${x}`)),
    ]),
  );
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#assumed", [...data.assumptions, ...data.notes, ...(data.children ? [data.children.words] : [])]);
  // Nothing was measured: there is nothing to leave out.
  $("#as-kit").hidden = !data.as_kit && !data.state;
  $("#as-kit input").checked = data.as_kit;
  put("#as-kit span", say.AS_KIT);
  list("#given-up", say.reasonGroups(data.given_up));
  list(
    "#closed",
    data.closed.map((w, i) => [
      say.hidden(w),
      make(
        "button",
        {
          type: "button",
          class: "wordy take",
          "aria-label": say.openAgain(w),
          onclick: () => open(i),
        },
        say.OPEN_AGAIN,
      ),
    ]),
  );
}

// The machine leaves out what was learned from its next answer on, whoever changes what.
export function asKit(update) {
  $("#as-kit input").addEventListener("change", (event) => {
    send("PUT", "/settings/evening", { as_kit: event.target.checked || null }, "settings-evening-as_kit")
      .then(update)
      .catch(failed);
  });
}

// When visitors can look up for a satellite: times alone, for no mount is turned to it.
function lookUp(told) {
  if (!told) return [];
  const rows = told.crossings.map((one) => make("li", {}, `${one.words}.`));
  if (!rows.length) rows.push(make("li", {}, say.NOTHING_CROSSES));
  return [
    make("h2", {}, say.LOOK_UP),
    make("ul", { class: "assumed" }, ...rows, ...told.notes.map((note) => make("li", {}, note))),
  ];
}
