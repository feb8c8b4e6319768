// The words about pictures on the page of the axis error.

export const RECOGNISING = "Recognising the stars";
export const SENDING = "Reducing and sending";
export const TAKE_AWAY = "take away";
/** @type {Array<[string, string]>} */
export const TOWARDS = [
  ["pole", " near the pole"],
  ["anywhere", " anywhere in the sky"],
];
export const takeAway = (name) => `Take away ${name}`;
export const beganOf = (name) => `When the exposure of ${name} began`;
export const notOpened = (name) => `${name}: this browser can't open it; save it as a JPEG or PNG and choose that.`;
export const tooLarge = (name) => `${name}: even reduced it is larger than 2 MB.`;
export const recognisedIn = (name) => `Recognised in ${name}`;
export const held = (one) =>
  [
    one.name,
    one.says.taken ? one.says.taken.replace("T", " ").replace(/\.\d+/, "") : "no time in it: write when it began",
    one.says.exposure_s ? `${Number(one.says.exposure_s.toPrecision(3))} s` : null,
    one.says.focal_35_mm ? `${one.says.focal_35_mm.toFixed(0)} mm as on 36 x 24` : null,
  ]
    .filter(Boolean)
    .join(", ");
