// The words that more than one page says: of the link, the lead, the clock, of what can be moved.

// Between two hours of a dial: up to which part of the way what is said.
/** @type {[number, (low: number, high: number) => string][]} */
export const BETWEEN = [
  [0.04, (low) => `${low}`],
  [0.25, (low) => `just past ${low}`],
  [0.42, (low) => `a third past ${low}`],
  [0.58, (low, high) => `midway from ${low} to ${high}`],
  [0.75, (_, high) => `a third short of ${high}`],
  [0.96, (_, high) => `just before ${high}`],
];
/** @type {(low: number, high: number) => string} */
export const justAt = (_, high) => `${high}`;
export const onHour = (hour) => `at ${hour}`;
export const POINTS = [
  "north",
  "north-north-east",
  "north-east",
  "east-north-east",
  "east",
  "east-south-east",
  "south-east",
  "south-south-east",
  "south",
  "south-south-west",
  "south-west",
  "west-south-west",
  "west",
  "west-north-west",
  "north-west",
  "north-north-west",
];

export const AWAY =
  "No link to the machine that runs this. What is on the page goes on; what you enter is kept and sent when the link returns.";
export const UNREADABLE = "The answer could not be read.";
export const DID_NOT_WORK = "That did not work.";
export const TRIPPED = "This page tripped over something; load it again.";
export const WORKING = "Working";
export const CHOOSE = "Choose an object";
export const sending = (waiting) => `Sending ${waiting} kept ${waiting === 1 ? "entry" : "entries"}.`;
// When what stands there was answered; nothing where that is now.
/** @type {(from: number, now: number, zone: string) => string} */
export function answeredAt(from, now, zone) {
  if (!from) return "";
  const day = (t) => new Intl.DateTimeFormat("en-GB", { timeZone: zone, dateStyle: "long" }).format(t),
    time = new Intl.DateTimeFormat("en-GB", { timeZone: zone, timeStyle: "short" }).format(from);
  return ` What stands here was answered at ${time}${day(from) === day(now) ? "" : ` on ${day(from)}`}.`;
}
// `old`: from when what stands there is; `empty`: nothing was answered on this page; `opens`: whether pages open
// without the link.
/** @type {(given: { waiting: number, old: string, empty: boolean, opens: boolean }) => string} */
export const away = ({ waiting, old, empty, opens }) =>
  AWAY + (old || (empty ? ` ${WAITS}` : "")) + (waiting ? ` Kept: ${waiting}.` : "") + (opens ? "" : ` ${STAYS_OPEN}`);
export const WAITS = "Nothing was kept of this page: it waits for the link.";
export const STAYS_OPEN = "Leave this page open: without the link this browser opens none.";

export const looking = (leader) => `You are looking; ${leader || "nobody"} leads.`;
export const lookingOnly = (leader) => `${looking(leader)} Nothing here can be changed until the lead is handed over.`;
export const leading = (names) => `You lead; ${names.join(", ")} ${names.length === 1 ? "looks" : "look"} on.`;
export const ASK_FOR_THE_LEAD = "Ask for the lead";
export const ASKED = "Asked.";
export const TAKE_THE_LEAD = "Take the lead";
export const handOver = (name) => `Hand over to ${name}, who asks`;
export const asks = (names) => `${names.join(", ")} ${names.length === 1 ? "asks" : "ask"} to lead.`;
export const giveTo = (name) => `Let ${name} lead`;
export const BOARD = "A board for the table";
export const TO_LET_LOOK = "To let somebody look, open ";
export const AND_TYPE = "and type";
export const pictureOf = (address) => `The address as a picture to scan: ${address}`;

export const asIfItWere = (moment, zone) =>
  `Shown as if it were ${new Intl.DateTimeFormat("en-GB", { timeZone: zone, dateStyle: "long", timeStyle: "short" }).format(moment)}. `;
export const BACK_TO_NOW = "Back to now";
export const putBack = (by) => `The clock was put back by ${by}: what was counted goes on as it was.`;

export const CAN_BE_MOVED = "can be moved";
export const arrowKeys = (label) => `${label}; arrow keys move it`;
export const moveStop = (title, place, count) =>
  `Move ${title}, ${place} of ${count}; arrow keys move it earlier or later`;

export const OBJECT = "Object";
export const NAMES = "Names";
export const SOME_OBJECTS = "Vega, M13, Saturn, Moon";
export const UP_NOW = "Up now";
export const NOTHING_UP = "Nothing much is up now.";
export const highIn = (altitude, point) => `, ${altitude} high in the ${point}`;

export const THE_EARTH = "The Earth from the side";
export const THE_AXIS = "the Earth's axis";
export const placeAt = (latitude) => `Place at latitude ${latitude.toFixed(1)} degrees`;

// What an object shows, and what may be said of it.
/** @type {(side: string | null | undefined) => string} */
export const shows = (side) => (side ? `At the eyepiece, tube on side ${side}` : "At the eyepiece");
export const TO_SAY = "To say";
