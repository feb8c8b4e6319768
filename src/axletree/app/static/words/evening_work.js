// What is said of setting up and taking down, where they are noted.

import { duration } from "../shared/words.js";

export const BEGIN = { set_up: "we begin to set up", take_down: "we begin to pack" };
const DONE = { set_up: "set up: ready", take_down: "packed away" };
export const done = (work, minutes) => `${DONE[work]}, ${duration(60 * minutes)}`;
export const NOT_BEGUN = "not begun";
export const earlier = (minutes) => `begun ${minutes} min earlier`;
export const TAKE_NOTE_BACK = "take it back";
export const NOTING = "Noting it";
export const NOTED = "Written into the logbook; later plans go by it.";
export const KEPT = "Kept here; it is written down when the link returns.";
export const NOTE_TAKEN_BACK = "Taken back.";
