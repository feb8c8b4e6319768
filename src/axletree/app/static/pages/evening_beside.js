// What else has tonight: lost and spare objects, the set-up, what is assumed, given up or hidden?

import { list, make, page, put } from "../shared/page.js";
import { capital, clock } from "../shared/words.js";
import { STEPS } from "./evening_hand.js";

export function beside(data, { putNext, open }) {
  put(
    "#lost",
    ...(data.lost.length
      ? [
          make("h2", {}, "No place any more"),
          data.empty_because === "session over" && !data.broken.length
            ? make("p", {}, `${data.lost.map((g) => g.name).join(", ")}.`)
            : make(
                "ul",
                { class: "rows" },
                ...data.lost.map((g) =>
                  make(
                    "li",
                    {},
                    make("strong", {}, g.name),
                    capital(g.reason),
                    data.broken.includes(g.name) ? make("b", { class: "problem" }, " It was promised.") : "",
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
        `free ${clock(new Date(o.free_from), page.zone)}–${clock(new Date(o.free_until), page.zone)}. ${o.why}`,
      ),
      make(
        "button",
        {
          type: "button",
          class: "plainly",
          disabled: !page.leads,
          "aria-label": `Show ${o.name} next`,
          onclick: () => putNext(o.key),
        },
        "next",
      ),
    ]),
  );
  if (!data.spares.length)
    put(
      "#spares",
      make(
        "li",
        {},
        data.session ? "Nothing else that is worth a stop." : "Nothing: this night has no darkness for stars.",
      ),
    );
  list(
    "#stages",
    data.stages.map((g) => [
      make("strong", {}, clock(new Date(g.begin), page.zone)),
      STEPS[g.name] ? make("a", { href: STEPS[g.name] }, g.name) : g.name,
      `: ${g.answer}`,
      ...g.details.map((x) => make("span", { class: "faint" }, ` ${x}`)),
    ]),
  );
  put("#cautions", ...data.cautions.map((c) => make("p", { class: "caution" }, c)));
  list("#assumed", [...data.assumptions, ...data.notes]);
  list(
    "#given-up",
    data.given_up.map((g) => `${g.name}: ${g.reason}.`),
  );
  list(
    "#closed",
    data.closed.map((w, i) => [
      `Hidden: ${w}`,
      make(
        "button",
        {
          type: "button",
          class: "wordy take",
          "aria-label": `Open again: ${w}`,
          onclick: () => open(i),
        },
        "open again",
      ),
    ]),
  );
}
