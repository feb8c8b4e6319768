// Which pages open without a link? Those that were opened before, as they were sent, less the names of people.
// The link always comes first; answers are no business of this worker (see kept.js).

/** @type {any} */
const worker = self;
const EDITION = location.pathname.split("/")[2],
  FILES = `/static/${EDITION}/`,
  HELD = `axletree-${EDITION}`,
  LIGHT = "/kept/light",
  LATE_MS = 8000;
const HEADERS = [
  "content-type",
  "content-security-policy",
  "x-content-type-options",
  "x-frame-options",
  "referrer-policy",
  "cross-origin-resource-policy",
  "permissions-policy",
];
const isPage = (path) => /^\/[a-z]*$/.test(path) && path !== "/enter";

worker.addEventListener("install", () => worker.skipWaiting());
worker.addEventListener("activate", (event) =>
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys())
        if (/^axletree-[0-9a-f]{12}$/.test(name) && name !== HELD) await caches.delete(name);
      await worker.clients.claim();
    })(),
  ),
);
worker.addEventListener("message", (event) => {
  const { page, files, light } = event.data;
  if (light) event.waitUntil(keepLight(light));
  if (page)
    event.waitUntil(
      Promise.all([...files.map((file) => file.startsWith(FILES) && fileOf(file)), isPage(page) && pageOf(page)]),
    );
});
worker.addEventListener("fetch", (event) => {
  const { request } = event,
    url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.pathname.startsWith(FILES)) event.respondWith(fileOf(request));
  else if (request.mode === "navigate" && isPage(url.pathname)) event.respondWith(opened(event, url.pathname));
});

// A file is named by its content: once held, it is right for ever.
async function fileOf(request) {
  const held = await caches.open(HELD),
    known = await held.match(request);
  if (known) return known;
  const reply = await fetch(request);
  if (reply.status === 200) await held.put(request, reply.clone()).catch(() => {});
  return reply;
}
const pageOf = async (path) => keepPage(path, await fetch(path, { redirect: "manual" }));

async function opened(event, path) {
  const asked = fetch(event.request);
  event.waitUntil(asked.then((reply) => keepPage(path, reply.clone())).catch(() => {}));
  const late = new Promise((done) => setTimeout(done, LATE_MS, null));
  try {
    const reply = await Promise.race([asked, late]);
    return reply ?? (await heldPage(path)) ?? (await asked);
  } catch {
    return (await heldPage(path)) ?? Response.error();
  }
}
async function keepPage(path, reply) {
  // Sent away to type the code: whoever isn't let in any more keeps nothing.
  if (reply.type === "opaqueredirect") {
    for (const name of [HELD, "axletree-answers"]) await caches.delete(name);
    return;
  }
  const text = reply.status === 200 ? await reply.text() : "";
  if (!text.includes(` data-page="`)) return;
  const nobody = text
    .replace(/ data-leader="[^"]*"/, ' data-leader=""')
    .replace(/ data-number="\d*"/, ' data-number="0"');
  const headers = {};
  for (const name of HEADERS) if (reply.headers.has(name)) headers[name] = reply.headers.get(name);
  const held = await caches.open(HELD);
  await held.put(path, new Response(nobody, { headers }));
  await keepLight(/ data-light="([a-z]+)"/.exec(text)?.[1] ?? "");
}
const keepLight = async (light) => (await caches.open(HELD)).put(LIGHT, new Response(light));

// In the light that was chosen last: no white page in the dark.
async function heldPage(path) {
  const held = await caches.open(HELD),
    found = await held.match(path);
  if (!found) return null;
  const light = await (await held.match(LIGHT))?.text(),
    text = await found.text();
  return new Response(light ? text.replace(/ data-light="[a-z]+"/, ` data-light="${light}"`) : text, {
    headers: found.headers,
  });
}
