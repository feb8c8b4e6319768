// The words of the page about the kit: figures in, sentences out.

export const READING = "Reading the kit";
export const KEEPING = "Keeping";
export const RIGHT = "Nothing wrong";
export const RIGHT_AND_GUESSED = ["Nothing wrong; ", " values are guessed"];
export const MEND = " mend";
export const TAKE_AWAY = "take away";
export const ADD_ONE = "Add one";
export const GUESSED = " · guessed";
export const TOO_LARGE = "That file is too large for a kit: at most 120 kB.";
export const CHANGED_ELSEWHERE = "The kit was changed elsewhere; yours is still here, not kept.";

export const toMend = (count) => (count === 1 ? "One thing to mend" : `${count} things to mend`);
export const atLine = (line) => (line ? `Line ${line}: ` : "");
export const lookAgain = (words) => `Look again: ${words}${words.endsWith("?") ? "" : "."}`;
export const problem = (p) => `${p.line ? `line ${p.line}, ` : ""}${p.key}: ${p.message}`;
export const notKept = (name) => `Not kept yet: “${name}”.`;
export const inOrder = (name, withheld) =>
  `“${name}”. A guessed length is dashed in the drawing; ${withheld ? "the file and its fields are with the one who leads." : "measure what matters."}`;
export const keep = (file) => (file ? `Keep in ${file}` : "Keep");
export const kept = (file) => `Kept${file ? ` in ${file}` : ""}.`;
export const guessedIn = (count) => ` ${count} guessed`;
const THERE_IS = {
  "tube.finder": "There is a finder",
  camera: "There is a camera",
  "mount.motor": "There is a motor",
};
export const thereIs = (path) => THERE_IS[path] ?? ADD_ONE;

const PARTS = { site: "Site", tube: "Tube" };
export const partOf = (part) => PARTS[part];
export const partNamed = (name) => name || "the kit’s own";
export const partChosen = (part, name) => `${PARTS[part]} for every page now: ${partNamed(name)}.`;
export const CHOOSING = "Taking it";
export const KEEP_FIRST = "Keep your changes or throw them away, then another can be chosen.";

export const MEASURING = "Looking at rooms all over the sky";
export const MEASURE_FIRST =
  "These make rooms all over the sky surer, the most telling first. What you write in goes into the text with its error and the date; keep it at the end.";
export const NOTHING_TO_MEASURE = "No dimension would make rooms a minute surer.";
export const LIKE = "152 ± 2";
export const WRITE_IN = "Write it in";
export const measured = (one) => `Measured${one.unit ? `, ${one.unit}` : ""}`;
export const brings = (one) => `Measured: ${one.brings}. So far ${one.so_far}.`;

export const SOLVING = "Solving pictures and lengths together";
export const NO_MARKS = "Choose a picture and mark at least six places on it.";
export const NO_PICTURE = "That file is no picture that this browser can show.";
export const WHOLE_PICTURE = "show the whole picture";
export const CHOOSE_PICTURE = "A picture; it stays in this browser";
export const FROM = "from";
export const TO = "to";
export const LENS = "Its lens, mm in terms of 35 mm film, if you know it";
export const pictureOf = (which) => (which ? "From behind" : "From the side");
export const knownLength = (units) => `A length that you measured, ${units === "us" ? "inches" : "mm"}`;
export const placeOf = (number, place) => `${number} ${place.words}`;
export const inText = (count) => `${count} lengths stand in the text now, each with its error; keep it above.`;
// Short words for the parts, beside the drawing of the rig.
const SHORT = {
  tube: "tube",
  "tube.finder": "finder",
  "tube.accessory": "other things",
  eyepiece: "eyepieces",
  barlow: "Barlow lens",
  camera: "camera",
  mount: "mount",
  "mount.tripod": "tripod",
  "mount.head": "head",
  "mount.weight": "weights",
  "mount.polar_scope": "polar scope",
  "mount.bolts": "bolts",
  "mount.gears": "gears, knobs",
  "mount.circles": "circles",
  "mount.travel": "stops, cables",
  "mount.motor": "motor",
};
export const short = (path) => SHORT[path] ?? path;
export const NONE_THERE = "none";
export const ownGuessed = (count) => `${count} guessed`;
export const TO_MEND = "mend";
