// How are lengths, angles and times written? The same as tell/shared/words.py; tests hold both together.

import { BETWEEN, justAt, onHour, POINTS } from "../words/shared.js";

const mod = (a, b) => ((a % b) + b) % b;

// Python rounds halves to even, exactly; toFixed rounds them up.
/** @type {(value: number, places?: number) => string} */
export function fixed(value, places = 0) {
  const text = value.toFixed(places),
    exact = value.toFixed(places + 30),
    rest = exact.slice(exact.length - 30);
  if (!/^50*$/.test(rest)) return text;
  const cut = exact.slice(0, exact.length - 30).replace(/\.$/, "");
  return Number(cut.at(-1)) % 2 === 0 ? cut : text;
}
/** @type {(value: number) => number} */
export function round(value) {
  const down = Math.floor(value),
    part = value - down;
  if (Math.abs(part - 0.5) > 1e-12) return Math.round(value);
  return down % 2 === 0 ? down : down + 1;
}
/** @typedef {"metric" | "us"} Units */

/** @type {(mm: number, units?: Units) => string} */
export function length(mm, units = "metric") {
  if (units === "us") {
    const inches = Math.abs(mm) / 25.4,
      sign = mm < 0 ? "−" : "";
    if (inches < 24) return `${sign}${fixed(inches, 1)} in`;
    const whole = round(inches);
    return `${sign}${Math.floor(whole / 12)} ft ${whole % 12} in`;
  }
  return Math.abs(mm) >= 1000 ? `${fixed(mm / 1000, 2)} m` : `${fixed(mm)} mm`;
}
/** @type {(mm: number, units?: Units) => string} */
export const aboveGround = (mm, units = "metric") => (units === "us" ? length(mm, units) : `${fixed(mm / 1000, 2)} m`);
export const KG_PER_POUND = 0.45359237;
/** @type {(kg: number, units?: Units) => string} */
export const mass = (kg, units = "metric") =>
  units === "us" ? `${fixed(kg / KG_PER_POUND, 1)} lb` : `${fixed(kg, 1)} kg`;
/** @type {(deg: number, places?: number, signed?: boolean) => string} */
export function degrees(deg, places = 1, signed = false) {
  const text = fixed(Math.abs(deg), places),
    negative = deg < 0 && Number(text) !== 0;
  return `${negative ? "−" : signed ? "+" : ""}${text}°`;
}
/** @type {(seconds: number) => string} */
export function duration(seconds) {
  if (seconds < 90) return `${fixed(seconds)} s`;
  const minutes = round(seconds / 60);
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}
// An axis error as people say it: '0.8′', '12′', '2.9°'; smaller than half a right angle.
/** @type {(arcmin: number) => string} */
export function axisError(arcmin) {
  if (arcmin >= 90) return `${fixed(arcmin / 60, arcmin < 600 ? 1 : 0)}°`;
  return `${fixed(arcmin, arcmin >= 10 ? 0 : 1)}′`;
}
// How long a hand waits: from ten minutes on to the minute.
/** @type {(seconds: number) => string} */
export function toTheSecond(seconds) {
  const whole = round(seconds);
  if (whole < 60 || whole >= 600) return duration(seconds);
  return `${Math.floor(whole / 60)} min${whole % 60 ? ` ${String(whole % 60).padStart(2, "0")} s` : ""}`;
}
/** @type {(h: number, signed?: boolean) => string} */
export function hoursMinutes(h, signed = false) {
  const minutes = round(Math.abs(h) * 60),
    minus = h < 0 && minutes > 0;
  const sign = minus ? "−" : signed ? "+" : "";
  return `${sign}${Math.floor(minutes / 60)}h ${String(minutes % 60).padStart(2, "0")}m`;
}
/** @type {(deg: number) => string} */
export const compassPoint = (deg) => POINTS[round(mod(deg, 360) / 22.5) % 16];
/** @type {(angleDeg: number) => string} */
export function clockFace(angleDeg) {
  return dialHour(mod(angleDeg, 360) / 30);
}
/** @type {(hour: number) => string} */
export function dialHour(hour) {
  const whole = Math.floor(hour),
    [low, high] = [0, 1].map((k) => mod(whole + k, 12) || 12);
  return (BETWEEN.find(([limit]) => hour - whole < limit)?.[1] ?? justAt)(low, high);
}
// The same with the word that goes before it.
/** @type {(hour: number) => string} */
export function dialPlace(hour) {
  const said = dialHour(hour);
  return /^\d+$/.test(said) ? onHour(said) : said;
}
// Minutes and seconds that run, '4:07'; hours when there are any.
/** @type {(seconds: number) => string} */
export function countdown(seconds) {
  const s = Math.max(0, Math.floor(seconds)),
    h = Math.floor(s / 3600),
    m = Math.floor(s / 60) % 60;
  return `${h ? `${h}:${String(m).padStart(2, "0")}` : m}:${String(s % 60).padStart(2, "0")}`;
}
const clocks = new Map();
/** @type {(moment: Date, zone: string, seconds?: boolean) => string} */
export function clock(moment, zone, seconds = false) {
  const key = `${zone}${seconds}`;
  if (!clocks.has(key))
    clocks.set(
      key,
      new Intl.DateTimeFormat("en-GB", {
        timeZone: zone,
        hour: "2-digit",
        minute: "2-digit",
        ...(seconds ? { second: "2-digit" } : {}),
        hourCycle: "h23",
      }),
    );
  // Minutes are rounded as on paper; seconds are cut, as a running clock shows them.
  return clocks.get(key).format(seconds ? moment : new Date(moment.getTime() + 30000));
}
// A star's small Greek letter stays small.
/** @type {(text: string) => string} */
export const capital = (text) => (/^[α-ω]/.test(text) ? text : text.charAt(0).toUpperCase() + text.slice(1));
// A date is the same wherever the page is read: noon in UTC stands for it.
/** @type {(date: string, year?: boolean) => string} */
export const dayOf = (date, year = true) =>
  new Intl.DateTimeFormat("en-GB", {
    day: "numeric",
    month: "long",
    ...(year ? { year: "numeric" } : {}),
    timeZone: "UTC",
  }).format(new Date(`${date}T12:00:00Z`));
// The same with its weekday, and no comma after it.
/** @type {(date: string, year?: boolean) => string} */
export const day = (date, year = true) =>
  `${new Intl.DateTimeFormat("en-GB", { weekday: "long", timeZone: "UTC" }).format(new Date(`${date}T12:00:00Z`))} ${dayOf(date, year)}`;
