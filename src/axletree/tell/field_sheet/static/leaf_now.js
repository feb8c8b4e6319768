// What is to be done now? One stage or one stop, in figures that are read at arm's length.

import { make, name, paragraph, put, refresh } from "./dom.js";
import { BRASS, el, INK, line, sheet as drawing, words } from "./pen.js";
import { aboveGround, capital, clock, compassPoint, countdown, degrees, duration, hoursMinutes } from "./words.js";

const seconds = (at) => new Date(at * 1000);
export const called = (thing) =>
  [...thing.also_called, `${thing.kind}${thing.constellation ? ` in ${thing.constellation}` : ""}`].join(", ");
// Long waits are told in days.
const wait = (s) => (s > 172800 ? `${Math.floor(s / 86400)} days` : countdown(s));
const figure = (label, value, given = {}) => make("div", given, make("dt", {}, label), make("dd", {}, value));
const dialHour = (deg) => `${Math.round((((deg % 360) + 360) % 360) / 30) % 12 || 12} o'clock`;

// Room left as a length on a rule: brass from now to its end, ticks each ten minutes.
function roomRule(left, now, zone) {
  const W = 358,
    span = Math.min(Math.max(left, 1800) * 1.06, 3 * 3600),
    x = (s) => 8 + (Math.min(s, span) / span) * (W - 16),
    svg = drawing(W, 46, `Room: ${Number.isFinite(left) ? duration(left) : "all night"}`);
  const ticks = [];
  for (let t = Math.ceil(now / 600) * 600; t <= now + span; t += 600) {
    const long = t % 3600 === 0,
      half = t % 1800 === 0;
    ticks.push(`M${x(t - now).toFixed(1)} 20v${long ? 11 : half ? 8 : 5}`);
    if (long || (half && span < 5400))
      svg.append(words(Math.min(Math.max(x(t - now), 20), W - 20), 43, clock(seconds(t), zone), 12.5));
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
    element = make("div", { class: "leaf" }),
    parts = {};
  for (const part of ["head", "count", "figures", "beware", "eye", "beat", "room", "drawing", "next", "more"]) {
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
      when = soon > 300 ? ` at ${clock(seconds(then), zone)}` : "",
      place = night.place(row.key, then),
      eye = night.eye(row.key, row.side, then);
    refresh(parts.head, ["stop", row.key], () => [
      make("p", { class: "step" }, i < 0 ? "Put in by you" : `Stop ${i + 1} of ${sheet.evening.stops.length}`),
      make("h1", { class: "object" }, name(thing.name)),
      make("p", { class: "kind" }, name(called(thing))),
    ]);
    put(
      parts.count,
      ...(soon > 0
        ? [make("b", {}, wait(soon)), make("span", {}, `until it begins at ${clock(seconds(row.start), zone)}`)]
        : left > 0
          ? [make("b", {}, countdown(left)), make("span", {}, "left for the queue")]
          : [make("b", {}, `+${wait(-left)}`), make("span", {}, "over its time")]),
    );
    refresh(
      parts.figures,
      [row.key, row.side, when, hoursMinutes(place.hourCircleH, true), degrees(place.declinationCircleDeg, 1, true)],
      () =>
        make(
          "dl",
          { class: "big" },
          figure("tube", row.side),
          figure("eyepiece", thing.view.eyepiece),
          figure(`hour circle${when}`, hoursMinutes(place.hourCircleH, true)),
          figure("declination", degrees(place.declinationCircleDeg, 1, true)),
        ),
    );
    const face = eye.faceDeg === null ? "any way, looking down" : `face ${compassPoint(eye.faceDeg)}`;
    refresh(parts.eye, [row.key, row.side, aboveGround(eye.heightMm, units), face, eye.posture, eye.northDeg], () => [
      make("p", { class: "line" }, make("b", {}, aboveGround(eye.heightMm, units)), ` up, ${face}: ${eye.posture}.`),
    ]);
    beat(now, thing, row.key);
    const roomWords = row.until === Infinity ? "all night" : roomLeft > 0 ? duration(roomLeft) : "none";
    refresh(parts.room, [row.key, row.side, roomWords, Math.floor(now / 60)], () => [
      make(
        "p",
        { class: "line" },
        "Room ",
        make("b", {}, roomWords),
        row.until === Infinity ? "" : ` to ${clock(seconds(row.until), zone)}: ${row.endsBy}.`,
      ),
      row.shows < row.until
        ? paragraph(`It shows until ${clock(seconds(row.shows), zone)}; then it is too low, or the sky too light.`, {
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
    const stands = `It stands ${degrees(place.altitudeDeg, 0)} high in the ${compassPoint(place.azimuthDeg)}. The picture is ${sheet.tables.view_words}; north is at ${dialHour(eye.northDeg)}, and it drifts to ${dialHour(eye.driftDeg)}. ${Math.round(thing.view.magnification)}x, field ${degrees(thing.view.true_field_deg, 2)}, exit pupil ${thing.view.exit_pupil_mm.toFixed(1)} mm.`;
    refresh(parts.more, ["why", row.key, row.side, stands], () => [
      paragraph(stands),
      paragraph(`${capital(thing.visibility)}. ${thing.why}`),
      paragraph(row.side === thing.chosen.side ? thing.why_side : "", { class: "faint" }),
    ]);
  }
  function upNext(next, row, thing) {
    if (!next) return paragraph("Nothing comes after this one.");
    const then = run.things.get(next.key),
      turns = [];
    if (next.side !== row.side) turns.push(`the tube goes over to side ${next.side}`);
    if (then.view.eyepiece !== thing.view.eyepiece) turns.push(`eyepiece ${then.view.eyepiece}`);
    return [
      make(
        "p",
        { class: "line" },
        "Next ",
        make("b", {}, name(then.name)),
        ` at ${clock(seconds(next.start), zone)}`,
        turns.length ? `: ${turns.join(", ")}.` : "; side and eyepiece stay.",
      ),
    ];
  }
  function warnings(thing, row, now, shown) {
    const say = sheet.sayings,
      out = [],
      plannedSide = row.side === thing.chosen.side;
    const hangs =
      night.eye(row.key, row.side, Math.max(now, row.start)).barrelDeg < 0 ||
      night.eye(row.key, row.side, row.end).barrelDeg < 0;
    if (row.until - now < Math.max(row.end - now, 0))
      out.push(`The room ends at ${clock(seconds(row.until), zone)}, before this stop does: ${row.endsBy}.`);
    if (hangs) out.push(say.barrel_down);
    if (night.weightsUp(row.key, row.side, Math.max(now, row.start))) out.push(say.weights_up);
    else if (night.weightsUp(row.key, row.side, row.end)) out.push(say.weights_will_rise);
    const i = run.planned.findIndex((r) => r.key === row.key),
      before = run.planned[i - 1];
    if (plannedSide) out.push(...thing.cautions.filter((_, k) => !(thing.caution_codes[k] in say)));
    const way = shown.way,
      asPlanned = plannedSide && i >= 0 && (!way || (before && before.key === way[0] && before.side === way[1]));
    if (asPlanned) out.push(...thing.turn_warnings);
    else if (way && way[0] !== row.key)
      out.push("The turn to here was not computed in this order: turn slowly, and watch tube, legs and cables.");
    const { sunset } = sheet.evening.darkness;
    if (sunset && now < Date.parse(sunset) / 1000)
      out.push(`The Sun is up until ${clock(new Date(sunset), zone)}: caps on.`);
    if (now > night.end + 60)
      out.push("This is beyond the hours that were computed; figures are carried on from the last ones.");
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
      const turn =
        nudge.knob_turns > 0
          ? `${nudge.knob_turns < 0.1 ? nudge.knob_turns.toFixed(3) : nudge.knob_turns.toFixed(2)} turn ${nudge.direction}`
          : nudge.direction;
      return [
        make("p", { class: "line" }, "Nudge every ", make("b", {}, duration(every)), `: ${turn}`),
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
      make("p", { class: "step" }, `Setting up, step ${index + 1} of ${run.main.length}`),
      make("h1", { class: "object" }, s.name),
    ]);
    put(
      parts.count,
      ...(early > 0
        ? [make("b", {}, wait(early)), make("span", {}, `until ${clock(seconds(s.from), zone)}, when it should begin`)]
        : left > 0
          ? [make("b", {}, countdown(left)), make("span", {}, "left for it")]
          : [make("b", {}, `+${wait(-left)}`), make("span", {}, "later than planned")]),
    );
    refresh(parts.figures, ["stage", index], () => [
      make("p", { class: "doing" }, s.answer),
      ...s.details.map((d) => paragraph(d, { class: "line" })),
    ]);
    refresh(parts.beware, ["stage", index], () => s.cautions.map((c) => make("p", { class: "caution" }, c)));
    const also = run.meanwhile.filter((m) => m.from <= now && now < m.until);
    refresh(parts.eye, ["stage", also.map((m) => m.name)], () =>
      also.map((m) => paragraph(`Meanwhile: ${m.answer}`, { class: "line" })),
    );
    if (s.name === "pole") refresh(parts.drawing, ["dial"], () => field.dial.element);
    else refresh(parts.drawing, ["none"], () => []);
    if (s.name === "pole") field.dial.move(now);
    const then = next
      ? `${next.name} at ${clock(seconds(next.from), zone)}`
      : run.first
        ? `the first stop at ${clock(seconds(run.first), zone)}`
        : "nothing: this night has no stops";
    refresh(parts.next, ["stage", then], () => make("p", { class: "line" }, "Next ", make("b", {}, then), "."));
    for (const part of ["beat", "room", "more"]) refresh(parts[part], ["none"], () => []);
  }
  function over() {
    refresh(parts.head, ["over", sheet.evening.stops.length], () => [
      make("p", { class: "step" }, "The evening"),
      make("h1", { class: "object" }, sheet.evening.stops.length ? "No stop is left" : "No stops"),
    ]);
    refresh(parts.count, ["over"], () => []);
    refresh(parts.figures, ["over"], () => [
      paragraph(
        sheet.evening.stops.length
          ? "What else could be shown stands under 'order'. Write the file for the laptop under 'notes' before you go."
          : capital(sheet.evening.order.words),
        { class: "doing" },
      ),
      ...sheet.evening.cautions
        .filter((_, k) => sheet.evening.caution_codes[k] === "weights_and_tube")
        .map((c) => make("p", { class: "caution" }, c)),
    ]);
    for (const part of ["eye", "beat", "room", "beware", "drawing", "next", "more"])
      refresh(parts[part], ["none"], () => []);
  }
  function acts({ item }) {
    if (item.kind === "stage")
      return [
        ["all", "set up", "all is"],
        ["done", item.stage.name, "done:", "act"],
      ];
    if (item.kind !== "stop") return [];
    const n = field.state.tally[item.row.key] ?? 0;
    return [
      ["skip", "skip", ""],
      ["one", String(n), "looked:"],
      ...(run.things.get(item.row.key).nudge.every_s === null ? [] : [["beat", "nudged", ""]]),
      ["shown", "shown", "", "act"],
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
