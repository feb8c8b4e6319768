// Which few dimensions make rooms surer: where the tape goes, and a field for what it reads.

import { $, busy, make, put, unfolds } from "../shared/page.js";
import { post } from "../shared/link.js";
import { drawingFrom } from "../shared/drawing.js";
import * as say from "../words/kit.js";

// `draft` gives the text and units as the page holds them, `take` is given a new text.
export function makeMeasure({ draft, take }) {
  unfolds("measure", () => void show());
  async function show() {
    try {
      const found = await busy(post("/answer/kit/measure", draft()), say.MEASURING);
      put("#measure-problem").hidden = true;
      rows(found.first);
    } catch (error) {
      put("#measure-problem", error.message).hidden = false;
    }
  }
  function rows(first) {
    put("#measure-said", first.length ? say.MEASURE_FIRST : say.NOTHING_TO_MEASURE);
    put("#measure-rows", ...first.map(row));
  }
  function row(one) {
    const id = `measure-${one.key}`,
      problem = make("p", { class: "problem", id: `${id}-problem`, role: "alert", hidden: true }),
      input = make("input", {
        id,
        autocomplete: "off",
        maxlength: "80",
        placeholder: say.LIKE,
        "aria-describedby": `${id}-problem`,
      });
    const form = make(
      "form",
      { novalidate: true },
      make("label", { for: id }, say.measured(one)),
      make("div", { class: "pair" }, input, make("button", { class: "plainly" }, say.WRITE_IN)),
      problem,
    );
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      if (!input.value.trim()) return;
      try {
        const given = { ...draft(), key: one.key, typed: input.value };
        const found = await busy(post("/answer/kit/measure", given), say.MEASURING);
        take(found.text);
        rows(found.first);
        $("#measure-said").focus();
      } catch (error) {
        put(problem, error.message).hidden = false;
        input.setAttribute("aria-invalid", "true");
        input.focus();
      }
    });
    const drawn = drawingFrom(one.drawing);
    return make(
      "section",
      { class: "to-measure" },
      make("h3", {}, one.words),
      make("p", {}, say.brings(one)),
      make("div", { class: "tape" }, drawn ?? ""),
      make("p", { class: "faint" }, one.tape),
      form,
    );
  }
}
