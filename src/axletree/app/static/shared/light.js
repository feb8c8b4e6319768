// In which light is the page, and who is told when another one is chosen?

import { $$ } from "./elements.js";
import { holdLight } from "./kept.js";
import { ask } from "./link.js";

const watchers = new Set();
export const light = () => document.documentElement.dataset.light;
export const onLight = (fn) => {
  watchers.add(fn);
  fn(light());
};
// A page that was kept may have been sent in another light than it stands in now.
function mark() {
  for (const button of $$("[data-choose-light]"))
    button.setAttribute("aria-pressed", String(button.dataset.chooseLight === light()));
}
function setLight(name) {
  document.documentElement.dataset.light = name;
  // biome-ignore lint/suspicious/noDocumentCookie: the Cookie Store API is for secure contexts only
  document.cookie = `axletree_light=${name}; Path=/; SameSite=Strict; Max-Age=31536000`;
  mark();
  for (const fn of watchers) fn(name);
  holdLight(name);
  // Whoever comes in next opens in the leader's light: the cookie has to be seen for that.
  if (document.body.dataset.leads === "yes") ask("here").catch(() => {});
}
for (const button of $$("[data-choose-light]"))
  button.addEventListener("click", () => setLight(button.dataset.chooseLight));
mark();
