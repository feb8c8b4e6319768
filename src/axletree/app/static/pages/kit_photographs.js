// Lengths from photographs: places of the rig tapped on pictures that never leave this browser. A first
// tap brings the place near, a second one marks it.

import { $, busy, make, page, put, unfolds } from "../shared/page.js";
import { ask, post } from "../shared/link.js";
import { drawingFrom } from "../shared/drawing.js";
import { reduced } from "../shared/reduced.js";
import * as say from "../words/kit.js";

const MOST_WIDE = 2400, // a larger picture is reduced to this; nothing but its pixels is kept
  NEAR = 6, // how much nearer a first tap brings a place
  TAP_PX = 3, // how well a finger or pointer hits, on the screen
  INCH = 25.4;
let places = [],
  chosen = 0;
const pictures = [];

// `draft` gives the text as the page holds it, `take` is given a new one.
export function makePhotographs({ draft, take }) {
  unfolds("photographs", () => !places.length && void open());
  async function open() {
    try {
      const found = await busy(ask("kit/photographs/places"), say.READING);
      places = found.places;
      put("#photographs-set-up", found.set_up);
      put("#photographs-drawings", ...found.drawings.map((d) => drawingFrom(d) ?? ""));
      for (const which of [0, 1]) pictures.push(picture(which));
      put("#photographs-pictures", ...pictures.map((p) => p.box));
      choose(0);
    } catch (error) {
      wrong(error.message);
    }
  }
  $("#photographs-solve").addEventListener("click", async () => {
    const marked = pictures.filter((p) => p.image && p.marks.size).map((p) => p.told());
    if (!marked.length) {
      wrong(say.NO_MARKS);
      return;
    }
    try {
      const text = draft().text,
        found = await busy(post("/answer/kit/photographs", { text, pictures: marked }), say.SOLVING);
      put("#photographs-problem").hidden = true;
      put("#photographs-told", ...found.lines.map((line) => make("li", {}, line.trim())));
      const write = $("#photographs-write");
      write.hidden = !found.written.length;
      write.onclick = () => {
        take(found.text);
        write.hidden = true;
        put("#photographs-said", say.inText(found.written.length));
      };
    } catch (error) {
      wrong(error.message);
    }
  });
}
const wrong = (words) => {
  put("#photographs-problem", words).hidden = false;
};

// Which place is marked next; its buttons stand over the pictures.
function choose(which) {
  chosen = which;
  put(
    "#photographs-places",
    ...places.map((place, k) =>
      make(
        "button",
        { type: "button", "aria-pressed": String(k === chosen), onclick: () => choose(k) },
        say.placeOf(k + 1, place),
      ),
    ),
  );
  for (const p of pictures) p.draw();
}

function picture(which) {
  const canvas = make("canvas", { class: "marked", role: "img", "aria-label": say.pictureOf(which), hidden: true }),
    file = make("input", { type: "file", id: `photograph-${which}`, accept: "image/*" }),
    away = make("button", { type: "button", class: "wordy", hidden: true, onclick: () => far() }, say.WHOLE_PICTURE),
    lens = make("input", { id: `lens-${which}`, inputmode: "decimal", autocomplete: "off", maxlength: "6" }),
    length = make("input", {
      id: `length-${which}`,
      autocomplete: "off",
      maxlength: "20",
      placeholder: page.units === "us" ? "27.2" : "690",
      inputmode: "decimal",
    });
  const ends = ["from", "to"].map((end, k) =>
    make(
      "select",
      { id: `${end}-${which}` },
      ...places.map((place, n) => make("option", { value: place.code, selected: n === 10 + k }, place.words)),
    ),
  );
  const self = { image: null, marks: new Map(), zoom: null, box: null, draw, told };
  self.box = make(
    "div",
    { class: "photograph" },
    make("h3", {}, say.pictureOf(which)),
    make("label", { for: file.id }, say.CHOOSE_PICTURE),
    file,
    canvas,
    away,
    make("label", { for: length.id }, say.knownLength(page.units)),
    length,
    make("label", { for: ends[0].id }, say.FROM),
    ends[0],
    make("label", { for: ends[1].id }, say.TO),
    ends[1],
    make("label", { for: lens.id }, say.LENS),
    lens,
  );
  file.addEventListener("change", async () => {
    const given = file.files[0];
    if (!given) return;
    try {
      self.image = (await reduced(given, MOST_WIDE)).canvas;
    } catch {
      wrong(say.NO_PICTURE);
      return;
    }
    self.marks.clear();
    self.zoom = null;
    canvas.width = self.image.width;
    canvas.height = self.image.height;
    canvas.hidden = false;
    draw();
  });
  canvas.addEventListener("click", (event) => {
    const seen = canvas.getBoundingClientRect(),
      shown = window_(),
      x = shown.x + ((event.clientX - seen.left) / seen.width) * shown.width,
      y = shown.y + ((event.clientY - seen.top) / seen.height) * shown.height;
    if (!self.zoom) {
      self.zoom = { x, y };
      away.hidden = false;
      draw();
      return;
    }
    self.marks.set(places[chosen].code, [x, y]);
    far();
    const next = places.findIndex((place) => !self.marks.has(place.code));
    if (next >= 0) choose(next);
  });
  function far() {
    self.zoom = null;
    away.hidden = true;
    draw();
  }
  // The part of the picture that is shown.
  function window_() {
    const { width, height } = self.image;
    if (!self.zoom) return { x: 0, y: 0, width, height };
    const w = width / NEAR,
      h = height / NEAR;
    return {
      x: Math.min(Math.max(self.zoom.x - w / 2, 0), width - w),
      y: Math.min(Math.max(self.zoom.y - h / 2, 0), height - h),
      width: w,
      height: h,
    };
  }
  function draw() {
    if (!self.image) return;
    const pen = canvas.getContext("2d"),
      shown = window_(),
      grown = canvas.width / shown.width,
      size = canvas.width / 70;
    pen.drawImage(self.image, shown.x, shown.y, shown.width, shown.height, 0, 0, canvas.width, canvas.height);
    pen.font = [`${size * 1.6}px`, getComputedStyle(canvas).fontFamily].join(" ");
    pen.lineWidth = size / 5;
    places.forEach((place, k) => {
      const at = self.marks.get(place.code);
      if (!at) return;
      const x = (at[0] - shown.x) * grown,
        y = (at[1] - shown.y) * grown;
      for (const [colour, width] of [
        ["#fff", size / 2.5],
        [k === chosen ? "#c60" : "#000", size / 6],
      ]) {
        pen.strokeStyle = colour;
        pen.lineWidth = width;
        pen.beginPath();
        pen.moveTo(x - size, y);
        pen.lineTo(x + size, y);
        pen.moveTo(x, y - size);
        pen.lineTo(x, y + size);
        pen.stroke();
      }
      pen.lineWidth = size / 3;
      pen.strokeStyle = "#fff";
      pen.strokeText(String(k + 1), x + size * 0.7, y - size * 0.5);
      pen.fillStyle = "#000";
      pen.fillText(String(k + 1), x + size * 0.7, y - size * 0.5);
    });
  }
  function told() {
    const { width, height } = self.image,
      number = (field) => Number(field.value.trim().replace(",", ".")),
      by = page.units === "us" ? INCH : 1,
      onScreen = canvas.getBoundingClientRect().width || width,
      given = {
        width_px: width,
        height_px: height,
        mark_px: Math.max(width / 1000, (TAP_PX * width) / NEAR / onScreen),
        marks: Object.fromEntries(self.marks),
      };
    if (lens.value.trim()) given.focal_35mm = number(lens);
    if (length.value.trim())
      given.known = { start: ends[0].value, end: ends[1].value, length_mm: number(length) * by, error_mm: 2 };
    return given;
  }
  return self;
}
