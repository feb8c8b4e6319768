// What is being shown, what comes next, when is my turn? For those who look on, and on the table.

import {
  $,
  asking,
  busy,
  list,
  make,
  now,
  onBack,
  onKit,
  page,
  put,
  say as write,
  start,
  tick,
} from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import { onPutBack } from "../shared/put_back.js";
import * as say from "../words/board.js";

const AGAIN_MS = 15_000;
const address = new URLSearchParams(location.search);
let data = null,
  before = Number(address.get("before") ?? Number.NaN),
  told = "";
const ms = (iso) => Date.parse(iso);

const fetchShown = latest(
  (signal) => ask("shown", { at: now().toISOString(), before: Number.isNaN(before) ? 0 : before }, signal),
  60,
);
const update = () => asking(fetchShown, took);
function took(found) {
  data = found;
  // In the light of the one who leads, unless this browser chose its own.
  if (found.light && !/(^|; )axletree_light=/.test(document.cookie))
    document.documentElement.dataset.light = found.light;
  show();
}
function show() {
  const [s, ...later] = data.stops,
    t = now().getTime(),
    runs = s && ms(s.begin) <= t;
  write("#when", !s ? data.date_words : runs ? say.nowShown((ms(s.end) - t) / 1000) : say.first(s.begin, page.zone));
  write("#answer", s ? s.name : data.session ? say.OVER : say.NOTHING);
  write("#called", s ? say.called(s) : "", s && !runs && data.setting_up ? ` ${say.SETTING_UP}.` : "");
  const key = s ? s.key : "";
  if (key !== told) {
    told = key;
    put("#aloud", s?.name ?? "");
    put(
      "#look-for",
      ...(s
        ? [
            make("h2", {}, say.LOOK_FOR),
            ...(s.look_for.length ? s.look_for : [say.glance(s.glance)]).map((words) => make("p", {}, words)),
          ]
        : []),
    );
    put("#light", s ? say.light(s) : "");
    put(
      "#say",
      ...(s?.sayings.length ? [make("h2", {}, say.SAID), ...s.sayings.map((words) => make("p", {}, words))] : []),
    );
  }
  const count = Number.isNaN(before) ? 0 : before;
  $(".turn").hidden = !s;
  write("#before", say.inFront(count));
  $("#fewer").disabled = count === 0;
  write("#turn", s ? say.turn(data.turn) : "");
  $(".next").hidden = !later.length && !data.shown.length;
  $(".next h2").hidden = !later.length;
  list(
    "#next",
    later.map((n) => [make("strong", {}, n.name), " ", say.next(n, t, page.zone)]),
  );
  write("#before-now", say.further(data.to_come - data.stops.length), " ", say.seen(data.shown));
}
function count(step) {
  before = Math.min(500, Math.max(0, (Number.isNaN(before) ? 0 : before) + step));
  address.set("before", String(before));
  history.replaceState(null, "", `?${address}`);
  write("#before", say.inFront(before));
  void update();
}
$("#fewer").addEventListener("click", () => count(-1));
$("#more").addEventListener("click", () => count(1));
onKit(() => update());
onBack(update);
start(busy(update(), say.LOOKING));
let asked = Date.now();
onPutBack((byMs) => (asked += byMs));
tick(() => {
  if (Date.now() - asked < AGAIN_MS) return;
  asked = Date.now();
  void update();
});
