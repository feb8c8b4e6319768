// What stays when the link is lost: the pages that were opened, and what was last answered on them?
// Only where the browser lets a worker hold pages (this machine itself, or https). Answers are kept here, pages by
// the worker; nothing of a person is: no code, no name, no cookie, no logbook, and nothing that was typed to search.

const ANSWERS = "axletree-answers";
// Answers about the mount, the sky and the plan, which go on without a link.
const KEPT =
  /^(balance|calendar|check|evening|find|follow|level|north|point|pole|rehearse|rig|shown|teach|yard)(\/(now|night|up))?$/;
const LONGEST_MS = 24 * 3600_000,
  MOST = 60;

/** @type {() => boolean} */
export const holdsPages = () => isSecureContext && "serviceWorker" in navigator && "caches" in globalThis;

// One place for a question, whenever it is asked. The two questions for an evening have one answer.
/** @type {(path: string, given: Record<string, any>) => string} */
export function placeOf(path, given) {
  const query = new URLSearchParams();
  for (const [k, v] of Object.entries(given)) if (k !== "at" && v !== undefined && v !== null) query.set(k, v);
  return `/kept/${path === "evening/first" ? "evening" : path}?${query}`;
}
/** @type {(path: string, given: Record<string, any>, data: any) => Promise<void>} */
export async function keepAnswer(path, given, data) {
  if (!holdsPages() || !KEPT.test(path)) return;
  try {
    const held = await caches.open(ANSWERS);
    await held.put(placeOf(path, given), new Response(JSON.stringify({ at: Date.now(), data })));
    const all = await held.keys();
    for (const old of all.slice(0, Math.max(0, all.length - MOST))) await held.delete(old);
  } catch {
    /* no room left: the page goes on, and is not kept */
  }
}
// What was last answered, and when: null where nothing was, or too long ago.
/** @type {(path: string, given: Record<string, any>) => Promise<{ at: number, data: any } | null>} */
export async function keptAnswer(path, given) {
  if (!holdsPages()) return null;
  try {
    const found = await (await caches.open(ANSWERS)).match(placeOf(path, given));
    const kept = found && (await found.json());
    return kept && Date.now() - kept.at < LONGEST_MS ? kept : null;
  } catch {
    return null;
  }
}
// Who is not let in any more keeps nothing.
/** @type {() => void} */
export const forgetAll = () => {
  if (holdsPages()) for (const name of [ANSWERS, pagesOf(editionOf())]) caches.delete(name).catch(() => {});
};

/** @type {() => string} */
const editionOf = () =>
  new URL(document.querySelector('script[src*="/joined/"]').getAttribute("src"), location.href).pathname.split("/")[2];
const pagesOf = (edition) => `axletree-${edition}`;
const WAIT_MS = 1000; // the page itself comes first

// Lets the worker hold this page, its modules and its typeface.
export function holdPage() {
  if (!holdsPages()) return;
  const hold = async () => {
    try {
      await navigator.serviceWorker.register(`/static/${editionOf()}/shared/worker.js`, { scope: "/" });
      const files = performance.getEntriesByType("resource").map((e) => new URL(e.name).pathname);
      const { active } = await navigator.serviceWorker.ready;
      active.postMessage({ page: location.pathname, files: files.filter((f) => f.startsWith("/static/")) });
    } catch {
      /* a browser that lets no worker in: the page needs the link, and says so when it is lost */
    }
  };
  if (document.readyState === "complete") setTimeout(hold, WAIT_MS);
  else addEventListener("load", () => setTimeout(hold, WAIT_MS));
}
/** @type {(light: string) => void} */
export const holdLight = (light) => {
  if (holdsPages()) navigator.serviceWorker.controller?.postMessage({ light });
};
