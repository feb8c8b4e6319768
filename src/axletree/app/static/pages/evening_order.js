// What if one stop comes sooner, later or not at all?

import { $, now } from "../shared/page.js";
import * as say from "../words/evening.js";
import { ms } from "./evening_hand.js";

// `chosen` gives the key of the stop that somebody looks at, `choose` takes another.
export function order({ toCome, change, chosen, choose }) {
  const inOrder = (keys) => change("order", { keys });
  function moveTo(key, place) {
    const keys = toCome()
      .map((s) => s.catalogue_id)
      .filter((k) => k !== key);
    keys.splice(place, 0, key);
    return inOrder(keys);
  }
  function putNext(key) {
    const keys = toCome().map((s) => s.catalogue_id),
      first = toCome()[0],
      runs = first && ms(first.begin) <= now().getTime();
    keys.splice(runs ? 1 : 0, 0, key);
    return inOrder(keys);
  }

  function oneShown(pick, runs) {
    const at = toCome().indexOf(pick);
    $("#promised").checked = pick.promised;
    $("#earlier").disabled = at <= 0;
    $("#later").disabled = at >= toCome().length - 1;
    $("#next").disabled = at <= (runs ? 1 : 0);
  }
  $("#unchoose").addEventListener("click", () => choose("", true));
  $("#next").addEventListener("click", () => {
    void moveTo(chosen(), toCome()[0] && ms(toCome()[0].begin) <= now().getTime() ? 1 : 0);
  });
  $("#earlier").addEventListener("click", () =>
    moveTo(chosen(), toCome().findIndex((s) => s.catalogue_id === chosen()) - 1),
  );
  $("#later").addEventListener("click", () =>
    moveTo(chosen(), toCome().findIndex((s) => s.catalogue_id === chosen()) + 1),
  );
  $("#out").addEventListener("click", () => {
    const key = chosen();
    choose("");
    void inOrder(
      toCome()
        .map((s) => s.catalogue_id)
        .filter((k) => k !== key),
    );
  });
  $("#promised").addEventListener("change", (event) =>
    change("promise", { key: chosen(), promised: event.target.checked }, say.NOTING),
  );
  return { moveTo, putNext, oneShown };
}
