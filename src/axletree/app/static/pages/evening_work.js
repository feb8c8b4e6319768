// How long do setting up and taking down take? Noted by two taps, where it begins and where it is done.

import { $, busy, failed, page, put, now } from "../shared/page.js";
import { post, send } from "../shared/link.js";
import { newId } from "../shared/new_id.js";
import * as say from "../words/evening_work.js";
import { ms } from "./evening_hand.js";

const MIN_MS = 60000,
  // From when on before the first stage people may be there already.
  EARLY_MS = 60 * MIN_MS,
  // Who taps late says so, a tap for so many minutes.
  EARLIER_MIN = 10,
  // Who forgot the second tap took no such time (the logbook takes no more either).
  LONGEST_MIN = 600;

// Which work is at hand: setting up before the first stop, taking down when none is left.
export function workAt(data, hand, t) {
  if (hand.stage || hand.wait || hand.stop) {
    const [stage] = data.stages,
      [stop] = data.stops,
      before = !data.ticked.length && t < ms(stop.begin);
    return before && stage && t > ms(stage.begin) - EARLY_MS ? "set_up" : "";
  }
  if (!data.session) return "";
  const { first_stop: first, end } = data.session;
  return t > ms(first) && t < ms(end) + LONGEST_MIN * MIN_MS ? "take_down" : "";
}

// `state.work` is what was begun or done, { day, work, began, noted }; `keep` lets it outlive a reload.
export function workButtons({ state, keep, answer, run }) {
  const minutesOf = (own, t) => Math.round((t - own.began) / MIN_MS);
  const ofNight = (data) => (state.work?.day === data?.date ? state.work : null);
  function become(own) {
    state.work = own;
    keep();
    run();
  }
  function tell(hand, t) {
    const data = answer(),
      last = ofNight(data),
      at = data ? workAt(data, hand, t) : "",
      begun = last && !last.noted && minutesOf(last, t) <= LONGEST_MIN,
      own = begun || last?.work === at ? last : null,
      work = begun ? last.work : at;
    $("#works").hidden = !work;
    $("#works").dataset.work = work;
    if (!work) return;
    put("#work-done", own ? say.done(work, own.noted ? own.noted.minutes : minutesOf(own, t)) : say.BEGIN[work]);
    // Beside a stop it isn't the button that is meant.
    $("#work-done").className = $("#ticks").hidden ? "act" : "plainly";
    $("#work-done").disabled = !page.leads || Boolean(own?.noted);
    put("#work-back", own?.noted ? say.TAKE_NOTE_BACK : say.NOT_BEGUN).hidden = !own;
    put("#work-earlier", say.earlier(EARLIER_MIN)).hidden = !own || Boolean(own.noted);
  }
  $("#work-earlier").addEventListener("click", () =>
    become({ ...state.work, began: state.work.began - EARLIER_MIN * MIN_MS }),
  );
  $("#work-done").addEventListener("click", async () => {
    const data = answer(),
      last = ofNight(data),
      t = now().getTime();
    if (!last || last.noted) {
      become({ day: data.date, work: $("#works").dataset.work, began: t });
      return;
    }
    const minutes = Math.max(1, minutesOf(last, t)),
      uid = newId();
    try {
      const given = { at: now().toISOString(), uid, work: last.work, minutes },
        reply = await busy(send("POST", "/logbook/work", given), say.NOTING);
      put("#said", reply ? say.NOTED : say.KEPT);
      become({ ...last, noted: { uid, minutes, evening: reply?.evening ?? 0 } });
    } catch (error) {
      failed(error);
    }
  });
  $("#work-back").addEventListener("click", async () => {
    const { noted } = state.work;
    try {
      if (noted?.evening)
        await post("/logbook/take-back", { at: now().toISOString(), evening: noted.evening, uid: noted.uid });
      put("#said", noted ? say.NOTE_TAKEN_BACK : "");
      become(null);
    } catch (error) {
      failed(error);
    }
  });
  return { tell };
}
