// Which place is meant? What is typed is looked up; of several the largest is taken unless another is chosen.

import { $, failed, fine, make, put } from "../shared/page.js";
import { ask, latest } from "../shared/link.js";
import * as say from "../words/begin.js";

// `take` puts the place into `given`, or gives the words that say what is missing, and in which fields.
/** @type {(given: Record<string, any>, problem: (name: string, words: string) => void) => { search: () => Promise<void>, take: () => Promise<string[]> }} */
export function placeForm(given, problem) {
  let found = [],
    foundFor = null;
  const typed = () => $("#place").value.trim();
  const lookUp = latest((signal) => ask("kit/places", { q: typed() }, signal), 150);
  async function search() {
    const sought = typed();
    if (!sought) {
      found = [];
      put("#places");
      return;
    }
    try {
      const answer = await lookUp();
      foundFor = sought;
      found = answer.point
        ? [{ ...answer.point, name: say.point(answer.point.latitude_deg, answer.point.longitude_deg), own: true }]
        : answer.places;
      problem("place", "");
      fine();
      show();
    } catch (error) {
      if (error.status !== 422) return failed(error);
      found = [];
      foundFor = sought;
      put("#places");
      put("#problem-place", error.message).hidden = false;
    }
  }
  function show() {
    const at = Math.max(
      0,
      found.findIndex((p) => p.place === given.place),
    );
    put("#places", ...found.map((p, i) => choice(p, i, i === at)));
  }
  const choice = (p, i, checked) =>
    make(
      "label",
      {},
      make("input", { type: "radio", name: "found", value: String(i), checked }),
      make(
        "span",
        {},
        p.own ? p.name : say.placeNamed(p),
        " ",
        p.own ? "" : make("span", { class: "faint whole" }, say.point(p.latitude_deg, p.longitude_deg)),
      ),
    );
  async function take() {
    if (!typed()) return [say.NO_PLACE, "place"];
    if (foundFor !== typed()) await search();
    const p = found[Number($("#places input:checked")?.value ?? 0)];
    if (!p) return [$("#problem-place").textContent || say.NO_PLACE, "place"];
    given.typed = foundFor;
    given.place = p.place;
    given.called = p.own ? p.name : say.placeNamed(p);
    given.near = p.name;
    given.name = $("#name").value.trim();
    return [];
  }
  $("#place").addEventListener("input", () => void search());
  return { search, take };
}
