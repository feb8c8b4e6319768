// Who leads, who looks on, and how does somebody come in? The list's own rows.

import * as words from "../words/shared.js";
import { make, put } from "./elements.js";
import { ask, post } from "./link.js";

export const givesTo = (p, kind, called, failed) =>
  make("button", { class: kind, type: "button", onclick: () => post(`/lead/give/${p.number}`).catch(failed) }, called);

export async function peopleRows({ now, others, leads, failed }) {
  const rows = [];
  if (!leads) {
    rows.push(make("p", {}, words.looking(now.leader)));
    rows.push(
      make(
        "button",
        {
          class: "plainly",
          type: "button",
          onclick: () =>
            post("/lead/ask")
              .then(() => put("#people", make("p", {}, words.ASKED)))
              .catch(failed),
        },
        words.ASK_FOR_THE_LEAD,
      ),
    );
    if (document.body.dataset.here === "yes")
      rows.push(
        make(
          "button",
          { class: "plainly", type: "button", onclick: () => post("/lead/take").catch(failed) },
          words.TAKE_THE_LEAD,
        ),
      );
  } else if (others.length) {
    rows.push(make("p", {}, words.leading(others.map((p) => p.name))));
    for (const p of others.filter((o) => o.asks)) rows.push(givesTo(p, "plainly", words.handOver(p.name), failed));
  }
  if (leads) rows.push(make("p", {}, make("a", { href: "/board" }, words.BOARD)));
  if (leads && document.body.dataset.sharing === "yes") {
    const sharing = await ask("sharing").catch(() => ({}));
    if (sharing.address) {
      const { drawingFrom } = await import("./drawing.js");
      const picture = drawingFrom(sharing.qr);
      picture?.setAttribute("role", "img");
      picture?.setAttribute("aria-label", words.pictureOf(sharing.address));
      rows.push(
        make("p", {}, words.TO_LET_LOOK, make("br"), sharing.address),
        picture,
        make("p", {}, words.AND_TYPE),
        make("p", { class: "code" }, sharing.code),
      );
    }
  }
  return rows;
}
