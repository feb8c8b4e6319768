// Pictures of the sky between which the hour axis alone was turned: reduced here, measured by the machine. They
// lose their places on the way, and stay in memory until they are let go.

import { $, busy, list, make, now, page, put, radios, unfolds } from "../shared/page.js";
import { bring, post } from "../shared/link.js";
import { drawingFrom } from "../shared/drawing.js";
import { exifOf } from "../shared/exif.js";
import { newId } from "../shared/new_id.js";
import { asJpeg, reduced, stretched } from "../shared/reduced.js";
import * as say from "../words/check_pictures.js";

const MOST_WIDE = 2400, // more tells no more: a star's place is good to a fifth of a pixel
  MOST_BYTES = 2000000,
  SHOWN_WIDE = 1100,
  MOST = 12;

let held = [];
let wanted = "pole";

// `measured` is called after the machine has noted what pictures told.
export function makePictures(measured) {
  unfolds("pictures");
  put(
    "#pictures-towards",
    ...radios("pictures-towards", say.TOWARDS, wanted, (value) => {
      wanted = value;
    }),
  );
  $("#pictures-files").addEventListener("change", async (event) => {
    const files = [...event.target.files].slice(0, MOST - held.length);
    event.target.value = "";
    quiet();
    for (const file of files) {
      const one = await taken(file);
      if (one) held.push(one);
      show();
    }
  });
  $("#pictures-measure").addEventListener("click", () => busy(measure(measured), say.RECOGNISING));
  $("#pictures-follow").addEventListener("change", async (event) => {
    const file = event.target.files[0];
    event.target.value = "";
    quiet();
    const one = file && (await taken(file));
    if (one) await busy(follow(one), say.RECOGNISING);
  });
  $("#pictures-forget").addEventListener("click", async () => {
    held = [];
    quiet();
    for (const id of ["#pictures-seen", "#pictures-now", "#pictures-now-drawing"]) put(id);
    $("#pictures-after").hidden = true;
    show();
    try {
      await post("/check/pictures/forget");
    } catch (error) {
      wrong(error.message);
    }
  });
  show();
}

const quiet = () => {
  $("#pictures-problem").hidden = true;
};
const wrong = (words) => {
  put("#pictures-problem", words).hidden = false;
};

// One file, reduced and sent; null where it couldn't be.
async function taken(file) {
  const says = await exifOf(file);
  let made;
  try {
    made = await reduced(file, MOST_WIDE, false);
  } catch {
    wrong(say.notOpened(file.name));
    return null;
  }
  const jpeg = await asJpeg(made.canvas, MOST_BYTES);
  if (!jpeg) {
    wrong(say.tooLarge(file.name));
    return null;
  }
  const one = { key: newId(10), name: file.name.slice(0, 80), says, made, jpeg, began: null };
  return (await sent(one)) ? one : null;
}

async function sent(one) {
  const { key, name, says, made, jpeg, began } = one;
  try {
    await busy(
      bring(
        `/check/pictures/${key}`,
        {
          name,
          taken: says.taken || began?.value || "",
          exposure_s: says.exposure_s,
          focal_35_mm: says.focal_35_mm,
          width_px: made.width,
        },
        jpeg,
      ),
      say.SENDING,
    );
    return true;
  } catch (error) {
    wrong(error.message);
    return false;
  }
}

function show() {
  list(
    "#pictures-held",
    held.map((one) => {
      if (!one.says.taken)
        one.began ??= make("input", { type: "datetime-local", step: "1", "aria-label": say.beganOf(one.name) });
      return [
        say.held(one),
        one.began,
        " ",
        make(
          "button",
          {
            type: "button",
            class: "wordy take",
            "aria-label": say.takeAway(one.name),
            disabled: !page.leads,
            onclick: () => {
              held = held.filter((other) => other !== one);
              show();
            },
          },
          say.TAKE_AWAY,
        ),
      ];
    }),
  );
  $("#pictures-measure").disabled = !page.leads || held.length < 2;
  $("#pictures-zone-ask").hidden = held.every((one) => /[+-]\d\d:\d\d$/.test(one.says.taken));
}

const asked = (keys) => {
  const field = $("#pictures-field").value.trim().replace(",", ".");
  return {
    at: now().toISOString(),
    keys,
    zone: $("#pictures-zone").value.trim(),
    field_deg: field ? Number(field) : null,
    towards: wanted,
  };
};

async function measure(measured) {
  quiet();
  // What was written beside a picture without a time goes with it now.
  for (const one of held.filter((h) => h.began)) if (!(await sent(one))) return;
  try {
    const found = await post("/check/pictures/measure", asked(held.map((one) => one.key)));
    put("#pictures-seen", ...seen(found.overlay));
    put("#pictures-now");
    put("#pictures-now-drawing");
    $("#pictures-after").hidden = false;
    await measured();
  } catch (error) {
    wrong(error.message);
  }
}

// The picture itself, under our own pen.
function seen(overlay) {
  const under = held[overlay.which]?.made.canvas,
    over = drawingFrom(overlay.drawing);
  if (!under || !over) return [];
  return [
    make("h2", {}, say.recognisedIn(overlay.name)),
    make("div", { class: "pictured" }, stretched(under, SHOWN_WIDE, overlay.flipped), over),
    ...overlay.notes.map((note) => make("p", {}, note)),
  ];
}

async function follow(one) {
  try {
    const found = await post("/check/pictures/follow", asked([one.key]));
    const drawing = drawingFrom(found.drawing);
    put("#pictures-now", ...found.said.split("\n\n").map((words) => make("p", {}, words)));
    put("#pictures-now-drawing", ...(drawing ? [drawing] : []));
  } catch (error) {
    wrong(error.message);
  }
}
