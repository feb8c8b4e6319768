// How does a year of nights look? A rule for each month, with a tooth for every night.

import { widthOf } from "../shared/measure.js";
import { LEAST } from "../shared/readable.js";
import { BRASS, el, FAINT, HAIR, INK, line, PAPER, sheet, words } from "../shared/pen.js";
import * as say from "../words/calendar.js";

const ROW = 270,
  TOOTH = 58,
  SMALL = 18,
  DEEP = 38,
  BODIES = 62,
  HOURS = 72,
  TALL = 30,
  BELOW = 116,
  NAMES = [123, 150], // where special nights are named: beside their diamonds, and below
  SLOT = 19.4,
  TYPE = 21, // what is still read where the sheet is half as large
  RIGHT = 8,
  MOON_LEAST = 0.12, // how dark the hours of a thin Moon are, and of the full one
  MOON_FULL = 0.75;
const iso = (t) => new Date(t).toISOString().slice(0, 10);

// Gives { element, index, place, nearest(x, y) }: the sheet, the hand on it, where each night stands.
// `across`: how wide it is shown, px.
export function yearSheet(data, { columns, across }) {
  const months = [];
  for (const n of data.nights) {
    const key = n[0].slice(0, 7);
    if (months[months.length - 1]?.key !== key) months.push({ key, nights: [] });
    months[months.length - 1].nights.push(n);
  }
  // Where the sheet is narrow its type is made larger, and takes more of it.
  const bare = 12 + RIGHT + 31 * SLOT,
    perType = Math.max(...[say.DEEP_SKY, say.BODIES, say.MOON].map((name) => widthOf(name, 1))),
    type = Math.max(TYPE, (LEAST * bare) / Math.max(1, across / columns - LEAST * perType)),
    left = 12 + perType * type,
    wide = left + RIGHT + 31 * SLOT,
    rows = Math.ceil(months.length / columns),
    svg = sheet(wide * columns, rows * ROW + 12, say.sheet(data.from, data.to));
  svg.setAttribute("role", "group"); // it holds the index, which can be moved
  const place = new Map(),
    how = {
      named: new Set(data.best_nights),
      scale: TALL / Math.max(0.1, ...data.nights.map((n) => n[4])),
      place,
    };
  months.forEach((m, i) => {
    const ox = Math.floor(i / rows) * wide + left,
      base = (i % rows) * ROW + 108,
      [year, month] = m.key.split("-").map(Number);
    svg.append(
      words(ox, base - TOOTH - 24, say.month(month, year, month === 1 || i === 0), 21, {
        "text-anchor": "start",
        "font-style": "italic",
        fill: FAINT,
      }),
      ...rule(ox, base, new Date(Date.UTC(year, month, 0)).getUTCDate()),
    );
    for (const n of m.nights) svg.append(...night(n, ox, base, how));
  });
  const moons = data.moon_phases
    .filter((p) => ["new", "full"].includes(p.phase))
    .map((p) => ({ spot: place.get(iso(Date.parse(p.at) - 12 * 3600000)), phase: p.phase }))
    .filter((m) => m.spot);
  for (const { spot, phase } of moons) {
    const fill = phase === "new" ? INK : "none";
    svg.append(el("circle", { cx: spot.x, cy: spot.y + BELOW, r: 4.6, fill, stroke: INK, "stroke-width": 1.6 }));
  }
  svg.append(...special(data, place, moons, type));
  const index = el(
    "g",
    { role: "slider", tabindex: 0, "aria-label": say.NIGHT, class: "movable" },
    el("path", { d: "M0 4l9 17h-18z", fill: BRASS }),
    line(0, 4, 0, -5, BRASS, 2.4),
  );
  svg.append(index);
  const nearest = (right, down) => {
    let best = null;
    for (const [date, { x, y }] of place) {
      const off = Math.hypot((x - right) * 1.5, y + BELOW / 2 - TOOTH / 2 - down);
      if (!best || off < best.off) best = { date, off };
    }
    return best && best.off < ROW ? best.date : null;
  };
  return { element: svg, index, place, nearest };
}

// A month's rules with their ticks, and what each row of teeth and the band tell.
function rule(ox, base, days) {
  const d = ["", ""],
    end = ox + days * SLOT,
    name = (y, text) => words(ox - 8, y, text, TYPE, { "text-anchor": "end", fill: FAINT });
  for (let k = 0; k <= days; k += 1)
    d[k % 5 === 0 ? 1 : 0] += `M${(ox + k * SLOT).toFixed(1)} ${base}v${k % 5 === 0 ? 8 : 4}`;
  return [
    line(ox, base + DEEP, end, base + DEEP, HAIR, 1),
    line(ox, base + BODIES, end, base + BODIES, HAIR, 1),
    line(ox, base, end, base, INK, 1.6),
    el("path", { d: d[0], stroke: INK, "stroke-width": 0.9 }),
    el("path", { d: d[1], stroke: INK, "stroke-width": 1.6 }),
    name(base + DEEP, say.DEEP_SKY),
    name(base + BODIES, say.BODIES),
    name(base + HOURS + TALL / 2 + 7, say.MOON),
  ];
}

// A night's tooth, smaller ones for the deep sky and for Moon and planets, and its part of the band
// of hours: from dusk down, filled while the Moon is up, the stronger the more of it is lit.
function night([date, score, deep, bodies, length, lit, up], ox, base, { named, scale, place }) {
  const number = Number(date.slice(8)),
    x = ox + (number - 0.5) * SLOT,
    pick = named.has(date),
    top = base + HOURS,
    edge = (y) => line(x - SLOT / 2, y, x + SLOT / 2, y, FAINT, 1);
  place.set(date, { x, y: base, start: ox, end: ox + 31 * SLOT });
  const small = (y, value) => (value >= 1 ? [line(x, y, x, y - (value / 100) * SMALL, INK, 6)] : []);
  return [
    line(x, base, x, base - (score / 100) * TOOTH, pick ? INK : HAIR, pick ? 9 : 6),
    ...small(base + DEEP, deep),
    ...small(base + BODIES, bodies),
    ...up.map(([from, to]) =>
      line(x, top + scale * from, x, top + scale * to, INK, SLOT + 0.3, {
        opacity: MOON_LEAST + (MOON_FULL - MOON_LEAST) * lit,
      }),
    ),
    ...(length > 0 ? [edge(top), edge(top + scale * length)] : []),
    ...(pick
      ? [
          words(x, base - (score / 100) * TOOTH - 6, number, 20, {
            "font-weight": 600,
            "paint-order": "stroke",
            stroke: PAPER,
            "stroke-width": 6,
          }),
        ]
      : []),
  ];
}

// Diamonds, with their names where there is room: what is ranked higher is named first.
function special(data, place, moons, type) {
  const D = 5,
    drawn = [],
    seen = data.special_nights.filter((n) => place.has(n.date)),
    taken = new Map(); // of each month's two lines, what is full
  for (const n of seen) {
    const { x, y } = place.get(n.date);
    drawn.push(
      el("path", { d: `M${x.toFixed(1)} ${y + BELOW - 6}l${D} 6l-${D} 6l-${D}-6z`, fill: INK, class: "special" }),
    );
    room(taken, place.get(n.date))[0].push([x - D, x + D]);
  }
  for (const { spot } of moons) room(taken, spot)[0].push([spot.x - 7, spot.x + 7]);
  const done = new Set();
  for (const n of [...seen].sort((a, b) => a.rank - b.rank || (a.date < b.date ? -1 : 1))) {
    if (done.has(n.date)) continue;
    const spot = place.get(n.date),
      lines = room(taken, spot),
      wide = widthOf(n.short, type) + 6;
    const ways = [
      [spot.x + D + 4, 0],
      [spot.x - D - 4 - wide, 0],
      [spot.x - D, 1],
      [spot.x + D - wide, 1],
    ];
    for (const [begin, level] of ways) {
      const free = lines[level].every(([a, b]) => begin + wide < a || b < begin);
      if (!free || begin < spot.start || begin + wide > spot.end) continue;
      lines[level].push([begin, begin + wide]);
      done.add(n.date);
      drawn.push(words(begin, spot.y + NAMES[level], n.short, TYPE, { "text-anchor": "start" }));
      break;
    }
  }
  return drawn;
}
function room(taken, { start, y }) {
  const key = `${start}|${y}`;
  if (!taken.has(key)) taken.set(key, [[], []]);
  return taken.get(key);
}
