// What is in hand now, what comes next, and what does a change of order cost?
// The state is plain data that outlives a reload; every move gives a new state or a refusal.

import { firstStart, moved, newlyLost, OTHER, walk } from "./order.js";
import { newId } from "./new_id.js";

const seconds = (iso) => Date.parse(iso) / 1000;

export function runOf(sheet, night) {
  const { evening } = sheet,
    things = new Map([...evening.stops, ...sheet.spares].map((s) => [s.catalogue_id, s]));
  const stages = evening.stages.map((s) => ({ ...s, from: seconds(s.begin), until: seconds(s.end) }));
  // A stage that goes on while a whole other one is done is not in hand: it happens meanwhile.
  const meanwhile = stages.filter((s) =>
    stages.some((t) => t !== s && t.from >= s.from && t.until <= s.until && t.until - t.from < s.until - s.from - 1),
  );
  const main = stages.filter((s) => !meanwhile.includes(s));
  const planned = evening.stops.map((s) => ({
    key: s.catalogue_id,
    side: s.chosen.side,
    start: seconds(s.begin),
    end: seconds(s.end),
    queue: s.queue_s,
    until: s.chosen.room_ends === null ? Infinity : seconds(s.chosen.room_ends),
    bar: s.chosen.doubt?.bar,
    touch: s.chosen.doubt?.words,
    shows: Infinity,
    lasts: Infinity,
    endsBy: s.chosen.ends_by,
  }));
  planned.forEach((row, i) => {
    row.arrive = row.start;
    row.wait = 0;
    row.move = i ? row.start - planned[i - 1].end : 0;
    const open = night.opening(row.key, row.side, row.start);
    if (open) Object.assign(row, { until: open.until, shows: open.shows, lasts: open.lasts, endsBy: open.endsBy });
  });
  const first = planned[0]?.start ?? null;
  const start = () => ({
    byClock: true,
    stage: 0,
    queue: planned.map((r) => r.key),
    freed: null,
    pose: null,
    side: {},
    more: {},
    tally: {},
    passed: [],
    entries: [],
    before: null,
  });
  const wish = (state) => (key) => ({
    side: state.side[key] ?? things.get(key).chosen.side,
    queue: night.queue(key) + (state.more[key] ?? 0),
  });

  // The whole of it at a moment: { item, rows, lost }. `item` is what is in hand.
  function at(state, now) {
    if (state.byClock) {
      const rows = planned,
        current = rows.find((r) => r.end > now);
      if (main.length && (first === null || now < first)) {
        let i = 0;
        main.forEach((s, k) => {
          if (s.from <= now) i = k;
        });
        return { item: stageItem(i), rows, lost: [] };
      }
      return {
        item: current ? { kind: "stop", row: current } : { kind: "over" },
        rows: rows.filter((r) => r.end > now),
        lost: [],
      };
    }
    if (state.stage < main.length) {
      const { rows, lost } = walk(night, state.queue, { from: Math.max(first ?? now, now), wish: wish(state) });
      return { item: stageItem(state.stage), rows, lost };
    }
    const whole = walk(night, state.queue, { from: state.freed, before: state.pose, wish: wish(state) }),
      current = whole.rows[0];
    if (!current) return { item: { kind: "over" }, rows: [], lost: whole.lost };
    const rest = walk(
      night,
      state.queue.filter((k) => k !== current.key),
      { from: Math.max(current.end, now), before: [current.key, current.side], wish: wish(state) },
    );
    return { item: { kind: "stop", row: current }, rows: [current, ...rest.rows], lost: rest.lost };
  }
  const stageItem = (i) => ({ kind: "stage", index: i, stage: main[i], next: main[i + 1] ?? null });

  const remember = (state) => ({ ...state, before: JSON.stringify({ ...state, before: null }) });
  // From here on the person's ticks count, not the clock. What the clock has passed is kept aside.
  function taken(state, now) {
    const fresh = remember(state);
    if (!state.byClock) return fresh;
    const { item } = at(state, now);
    if (item.kind === "stage") return { ...fresh, byClock: false, stage: item.index };
    const i = item.kind === "stop" ? state.queue.indexOf(item.row.key) : state.queue.length;
    return {
      ...fresh,
      byClock: false,
      stage: main.length,
      passed: [...state.passed, ...state.queue.slice(0, i)],
      queue: state.queue.slice(i),
      freed: item.kind === "stop" ? item.row.start : now,
      pose: item.kind === "stop" ? [item.row.key, item.row.side] : state.pose,
    };
  }
  function stageDone(state, now) {
    const next = taken(state, now);
    next.stage += 1;
    return next.stage >= main.length ? { ...next, freed: now, pose: null } : next;
  }
  const allSet = (state, now) => ({ ...taken(state, now), stage: main.length, freed: now, pose: null });

  function ticked(state, now, key, done) {
    const { rows } = at(state, now),
      row = rows.find((r) => r.key === key),
      next = taken(state, now),
      thing = things.get(key);
    const entry = {
      kind: "stop",
      uid: newId(),
      at: now,
      key,
      object: thing.name,
      catalogue_id: thing.catalogue_id,
      state: done ? "done" : "skipped",
      visitors: done ? (state.tally[key] ?? null) : null,
      note: "",
    };
    const stood = row && (done || now >= row.start) ? [key, row.side] : state.byClock ? state.pose : next.pose;
    return {
      ...next,
      stage: main.length,
      freed: now,
      pose: stood,
      queue: next.queue.filter((k) => k !== key),
      passed: next.passed.filter((k) => k !== key),
      entries: [...state.entries, entry],
    };
  }
  // A stop that was shown without a tick, told afterwards; nothing else changes.
  function shownBefore(state, now, key) {
    const thing = things.get(key),
      row = planned.find((r) => r.key === key);
    const entry = {
      kind: "stop",
      uid: newId(),
      at: row ? Math.min(row.start, now) : now,
      key,
      object: thing.name,
      catalogue_id: key,
      state: "done",
      visitors: null,
      note: "",
    };
    return {
      ...remember(state),
      queue: state.byClock ? state.queue : state.queue.filter((k) => k !== key),
      passed: state.passed.filter((k) => k !== key),
      entries: [...state.entries, entry].sort((a, b) => a.at - b.at),
    };
  }
  const note = (state, now, text) => ({
    ...remember(state),
    entries: [...state.entries, { kind: "note", uid: newId(), at: now, text }],
  });
  const count = (state, key, step) => ({
    ...state,
    tally: { ...state.tally, [key]: Math.max(0, (state.tally[key] ?? 0) + step) },
  });
  const undo = (state) => (state.before ? JSON.parse(state.before) : state);

  // A new order as a proposal: { state, costs, refused }. `costs` are the keys that lose their start.
  function reorder(state, now, key, to) {
    const base = taken(state, now),
      before = at(base, now),
      next = { ...base, queue: moved(base.queue, key, to), passed: base.passed.filter((k) => k !== key) };
    if (to === 0 && next.stage >= main.length) {
      const stood =
        before.item.kind === "stop" && now >= before.item.row.start
          ? [before.item.row.key, before.item.row.side]
          : base.pose;
      Object.assign(next, { freed: now, pose: stood });
    }
    const after = at(next, now);
    return {
      state: next,
      refused: after.lost.find((l) => l.key === key) ?? null,
      costs: newlyLost(before, after).filter((k) => k !== key),
    };
  }
  const leaveOut = (state, now, key) => {
    const base = taken(state, now);
    return {
      ...base,
      queue: base.queue.filter((k) => k !== key),
      passed: [...base.passed.filter((k) => k !== key), key],
    };
  };
  function otherSide(state, now, key) {
    const row = at(state, now).rows.find((r) => r.key === key),
      side = OTHER[row?.side ?? wish(state)(key).side];
    const found = firstStart(night, key, side, Math.max(now, row?.arrive ?? now), wish(state)(key).queue);
    return found ? { state: { ...taken(state, now), side: { ...state.side, [key]: side } } } : { refused: side };
  }
  function longer(state, now, key, more) {
    const row = at(state, now).rows.find((r) => r.key === key);
    if (!row || row.end + more > row.lasts) return { refused: row };
    return { state: { ...taken(state, now), more: { ...state.more, [key]: (state.more[key] ?? 0) + more } } };
  }
  return {
    things,
    main,
    meanwhile,
    planned,
    first,
    start,
    at,
    stageDone,
    allSet,
    ticked,
    shownBefore,
    note,
    count,
    undo,
    reorder,
    leaveOut,
    otherSide,
    longer,
    wish,
  };
}
