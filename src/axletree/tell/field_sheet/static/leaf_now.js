// What is to be done now? One stage or one stop, in figures that are read at arm's length.

import { makeCircles } from "./circles_now.js";
import { make, name, paragraph, put, refresh } from "./dom.js";
import { fieldView, northNow } from "./fieldview.js";
import { keptWithin } from "./measure.js";
import { BRASS, el, INK, line, sheet as drawing, words } from "./pen.js";
import * as say from "./field_words.js";
import { capital, clock, countdown, toTheSecond } from "./words.js";

const seconds = (at) => new Date(at * 1000);
const figure = (label, large, small = "") =>
  make("div", {}, make("dt", {}, label), make("dd", {}, large, small ? make("small", {}, small) : null));

// Room left as a length on a rule: brass from now to its end, ticks each ten minutes.
function roomRule(left, now, zone) {
  const W = 358,
    span = Math.min(Math.max(left, 1800) * 1.06, 3 * 3600),
    x = (s) => 8 + (Math.min(s, span) / span) * (W - 16),
    svg = drawing(W, 46, say.roomTitle(left));
  const ticks = [];
  for (let t = Math.ceil(now / 600) * 600; t <= now + span; t += 600) {
    const long = t % 3600 === 0,
      half = t % 1800 === 0;
    ticks.push(`M${x(t - now).toFixed(1)} 20v${long ? 11 : half ? 8 : 5}`);
    if (long || (half && span < 5400)) {
      const at = clock(seconds(t), zone);
      svg.append(words(keptWithin(x(t - now), at, 12.5, 2, W - 2), 43, at, 12.5));
    }
  }
  svg.append(
    line(8, 20, W - 8, 20, INK, 1.4),
    el("path", { d: ticks.join(""), stroke: INK, "stroke-width": 1 }),
    line(8, 13, x(Math.max(left, 0)), 13, BRASS, 9),
  );
  if (left < span) svg.append(line(x(left), 4, x(left), 26, INK, 2.4));
  return svg;
}

export function makeNow(field) {
  const { sheet, night, run, rig, zone } = field,
    units = sheet.evening.units,
    circlesOf = makeCircles(field),
    element = make("div", { class: "leaf" }),
    parts = {};
  for (const part of ["head", "count", "figures", "beware", "find", "eye", "beat", "room", "drawing", "next", "more"]) {
    parts[part] = make("section", { class: `part part-${part}` });
    element.append(parts[part]);
  }
  let beatFrom = 0,
    lastBeat = -1;

  function stop(now, { row }, shown) {
    const thing = run.things.get(row.key),
      i = sheet.evening.stops.indexOf(thing),
      soon = row.start - now,
      left = row.end - now,
      roomLeft = row.until - now;
    // While there is a wait, everything is said for the moment when the stop begins.
    const then = soon > 300 ? row.start : now,
      when = soon > 300 ? say.atWhen(then, zone) : "",
      place = night.place(row.key, then),
      marks = sheet.evening.rig.hour_marks,
      eye = night.eye(row.key, row.side, then),
      circles = say.circles(place, circlesOf.own(thing, row, then), marks, night.siderealH(then));
    refresh(parts.head, ["stop", row.key], () => [
      make("p", { class: "step" }, say.stopOf(i, sheet.evening.stops.length)),
      make("h1", { class: "object" }, name(thing.name)),
      make("p", { class: "kind" }, name(say.called(thing))),
    ]);
    put(
      parts.count,
      ...(soon > 0
        ? [make("b", {}, say.wait(soon)), make("span", {}, say.untilItBegins(row.start, zone))]
        : left > 0
          ? [make("b", {}, countdown(left)), make("span", {}, say.LEFT_FOR_QUEUE)]
          : [make("b", {}, say.late(-left)), make("span", {}, say.OVER_ITS_TIME)]),
    );
    refresh(parts.figures, [row.key, row.side, when, ...circles.hour, ...circles.declination], () =>
      make(
        "dl",
        { class: "big" },
        figure(say.IN_HAND.tube, row.side),
        figure(say.IN_HAND.eyepiece, thing.view.eyepiece),
        figure(say.hourCircle(when, marks), ...circles.hour),
        figure(say.IN_HAND.declination, ...circles.declination),
      ),
    );
    const height = say.height(eye, units),
      facing = say.upFacing(eye);
    refresh(parts.eye, [row.key, row.side, height, facing, eye.northDeg], () => [
      make("p", { class: "line" }, make("b", {}, height), facing),
    ]);
    find(thing, row, place, eye);
    beat(now, thing, row.key);
    const roomWords = say.roomLeft(row.until, roomLeft);
    refresh(parts.room, [row.key, row.side, roomWords, Math.floor(now / 60)], () => [
      make("p", { class: "line" }, say.IN_HAND.room, make("b", {}, roomWords), say.roomTo(row, zone)),
      row.shows < row.until
        ? paragraph(say.showsUntil(row.shows, zone), {
            class: "faint",
          })
        : null,
      roomRule(roomLeft, now, zone),
    ]);
    const beware = warnings(thing, row, now, shown);
    refresh(parts.beware, beware, () => beware.map((w) => make("p", { class: "caution" }, w)));
    refresh(parts.drawing, ["rig"], () => rig.element);
    rig.setPose(night.pose(row.key, row.side, Math.max(now, row.start)));
    const next = shown.rows[shown.rows.findIndex((r) => r.key === row.key) + 1];
    refresh(parts.next, next ? [row.key, next.key, next.side, Math.round(next.start / 60)] : ["last"], () =>
      upNext(next, row, thing),
    );
    const stands = say.stands(place, eye, thing.view, sheet.tables.view_words),
      said = circlesOf.setWords(thing, row);
    refresh(parts.more, ["why", row.key, row.side, stands], () => [
      said ? paragraph(said) : null,
      paragraph(stands),
      paragraph(`${capital(thing.visibility)}. ${thing.why}`),
      ...thing.tonight.map((words) => paragraph(words)),
      ...eyepieceRows(thing, row),
      ...(thing.wait && row.wait > 600 ? [paragraph(thing.wait.words)] : []),
      ...thing.sayings.map((words) => paragraph(words)),
      paragraph(row.side === thing.chosen.side ? thing.why_side : "", { class: "faint" }),
    ]);
  }
  // What Moon, planet or double star show; left and right are those of the planned side.
  function eyepieceRows(thing, row) {
    const shown = thing.eyepiece;
    return shown && row.side === thing.chosen.side ? shown.words.map((words) => paragraph(words)) : [];
  }
  // How it is found, and what finder and eyepiece show, turned as the clock has it.
  function find(thing, row, place, eye) {
    const { finding } = thing;
    if (!finding) return refresh(parts.find, ["none"], () => []);
    const begin = { hourAngleH: thing.start.hour_angle_h, declinationDeg: thing.start.declination_deg },
      latitudeDeg = sheet.evening.place.latitude_deg,
      last = finding.views[finding.views.length - 1],
      views = last === finding.views[0] ? [last] : [finding.views[0], last],
      north = views.map((view) => Math.round(northNow(view, { eye, place, begin, latitudeDeg })));
    refresh(parts.find, [row.key, row.side, ...north], () => [
      paragraph(row.side === thing.chosen.side ? say.findWords(finding) : say.wayOfOtherSide(thing.chosen.side)),
      row.side === thing.chosen.side ? paragraph(sheet.evening.ways_words, { class: "faint" }) : null,
      make(
        "div",
        { class: "fields" },
        ...views.map((view, i) =>
          make("figure", {}, fieldView(view, north[i], thing.eyepiece), make("figcaption", {}, say.fieldBelow(view))),
        ),
      ),
    ]);
  }
  function upNext(next, row, thing) {
    if (!next) return paragraph(say.NOTHING_AFTER);
    const then = run.things.get(next.key);
    return [
      make(
        "p",
        { class: "line" },
        say.IN_HAND.next,
        make("b", {}, name(then.name)),
        say.atWhen(next.start, zone),
        say.changesTo(next, row, then, thing),
      ),
    ];
  }
  function warnings(thing, row, now, shown) {
    const { sayings } = sheet,
      out = [],
      plannedSide = row.side === thing.chosen.side;
    const hangs =
      night.eye(row.key, row.side, Math.max(now, row.start)).barrelDeg < 0 ||
      night.eye(row.key, row.side, row.end).barrelDeg < 0;
    if (row.until - now < Math.max(row.end - now, 0)) out.push(say.roomEndsBefore(row, zone));
    if (hangs) out.push(sayings.barrel_down);
    if (night.weightsUp(row.key, row.side, Math.max(now, row.start))) out.push(sayings.weights_up);
    else if (night.weightsUp(row.key, row.side, row.end)) out.push(sayings.weights_will_rise);
    const i = run.planned.findIndex((r) => r.key === row.key),
      before = run.planned[i - 1];
    if (plannedSide) out.push(...thing.cautions.filter((_, k) => !(thing.caution_codes[k] in sayings)));
    const way = shown.way,
      asPlanned = plannedSide && i >= 0 && (!way || (before && before.key === way[0] && before.side === way[1]));
    if (asPlanned) out.push(...thing.turn_warnings);
    else if (way && way[0] !== row.key) out.push(say.TURN_NOT_COMPUTED);
    const { sunset } = sheet.evening.darkness;
    if (sunset && now < Date.parse(sunset) / 1000) out.push(say.sunIsUp(sunset, zone));
    if (now > night.end + 60) out.push(say.BEYOND_HOURS);
    return out;
  }
  // The rhythm of the nudges: a bar that fills, once a period, from when the knob was last turned.
  function beat(now, thing, key) {
    const { nudge } = thing,
      every = nudge.every_s;
    refresh(parts.beat, ["beat", key], () => {
      beatFrom = now;
      lastBeat = -1;
      if (every === null) return paragraph(nudge.direction, { class: "line" });
      return [
        make("p", { class: "line" }, say.IN_HAND.nudge, make("b", {}, toTheSecond(every)), say.nudgeTurn(nudge)),
        make("div", { class: "beat", "aria-hidden": "true" }, make("i", {})),
      ];
    });
    if (every === null) return;
    const part = ((now - beatFrom) / every) % 1,
      turnNumber = Math.floor((now - beatFrom) / every),
      bar = parts.beat.querySelector("i");
    if (bar) bar.style.width = `${(part * 100).toFixed(1)}%`;
    if (lastBeat >= 0 && turnNumber > lastBeat && field.taps()) navigator.vibrate?.(80);
    lastBeat = turnNumber;
  }
  function stage(now, { index, stage: s, next }) {
    const early = s.from - now,
      left = s.until - now;
    refresh(parts.head, ["stage", index], () => [
      make("p", { class: "step" }, say.stageOf(index, run.main.length)),
      make("h1", { class: "object" }, s.name),
    ]);
    put(
      parts.count,
      ...(early > 0
        ? [make("b", {}, say.wait(early)), make("span", {}, say.untilStage(s.from, zone))]
        : left > 0
          ? [make("b", {}, countdown(left)), make("span", {}, say.LEFT_FOR_IT)]
          : [make("b", {}, say.late(-left)), make("span", {}, say.LATER_THAN_PLANNED)]),
    );
    refresh(parts.figures, ["stage", index], () => [
      make("p", { class: "doing" }, s.answer),
      ...s.details.map((d) => paragraph(d, { class: "line" })),
    ]);
    refresh(parts.beware, ["stage", index], () => s.cautions.map((c) => make("p", { class: "caution" }, c)));
    const also = run.meanwhile.filter((m) => m.from <= now && now < m.until);
    refresh(parts.eye, ["stage", also.map((m) => m.name)], () =>
      also.map((m) => paragraph(say.meanwhile(m), { class: "line" })),
    );
    if (s.name === "pole") refresh(parts.drawing, ["dial"], () => field.dial.element);
    else refresh(parts.drawing, ["none"], () => []);
    if (s.name === "pole") field.dial.move(now);
    const then = say.afterStage(next, run.first, zone);
    refresh(parts.next, ["stage", then], () =>
      make("p", { class: "line" }, say.IN_HAND.next, make("b", {}, then), "."),
    );
    for (const part of ["find", "beat", "room", "more"]) refresh(parts[part], ["none"], () => []);
  }
  function over() {
    refresh(parts.head, ["over", sheet.evening.stops.length], () => [
      make("p", { class: "step" }, say.THE_EVENING),
      make("h1", { class: "object" }, sheet.evening.stops.length ? say.NO_STOP_LEFT : say.NO_STOPS),
    ]);
    refresh(parts.count, ["over"], () => []);
    refresh(parts.figures, ["over"], () => [
      paragraph(sheet.evening.stops.length ? say.WHEN_OVER : capital(sheet.evening.order.words), { class: "doing" }),
      ...sheet.evening.cautions
        .filter((_, k) => sheet.evening.caution_codes[k] === "weights_and_tube")
        .map((c) => make("p", { class: "caution" }, c)),
    ]);
    for (const part of ["find", "eye", "beat", "room", "beware", "drawing", "next", "more"])
      refresh(parts[part], ["none"], () => []);
  }
  function acts({ item }) {
    if (item.kind === "stage")
      return [
        ["all", ...say.ACTS.all],
        ["done", item.stage.name, say.ACTS.done, "act"],
      ];
    if (item.kind !== "stop") return [];
    const n = field.state.tally[item.row.key] ?? 0;
    return [
      ["skip", say.ACTS.skip, ""],
      ["one", String(n), say.ACTS.looked],
      ...(run.things.get(item.row.key).nudge.every_s === null ? [] : [["beat", say.ACTS.nudged, ""]]),
      ["shown", say.ACTS.shown, "", "act"],
    ];
  }
  return {
    element,
    rebeat(now) {
      beatFrom = now;
      lastBeat = -1;
    },
    show(now, shown) {
      const { item } = shown;
      if (item.kind === "stop") stop(now, item, shown);
      else if (item.kind === "stage") stage(now, item);
      else over();
    },
    acts,
  };
}
