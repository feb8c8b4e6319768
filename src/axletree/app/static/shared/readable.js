// Can a drawing's words still be read when the drawing is shown small? Type never falls below a floor on the screen.

export const LEAST = 11.2; // px
const GAP = 3; // px between words that were made larger
const FIGURE = /^[\d\s:.,°′″+−-]+$/;

/** @typedef {{ left: number, right: number, top: number, bottom: number }} Box */
/** @type {(a: Box, b: Box) => boolean} */
const meet = (a, b) => a.left < b.right + GAP && b.left < a.right + GAP && a.top < b.bottom && b.top < a.bottom;

/**
 * Makes small type larger, moves it back onto the sheet, and leaves out figures of a scale that would then meet others.
 * @type {(svg: SVGSVGElement) => void}
 */
export function keepReadable(svg) {
  const outer = svg.getBoundingClientRect();
  if (!outer.width) return;
  const all = /** @type {SVGTextElement[]} */ ([...svg.querySelectorAll("text")]).filter((t) => t.textContent.trim());
  const changed = [];
  for (const text of all) {
    const m = text.getScreenCTM();
    if (!m) continue;
    // What the drawing itself asked for is kept, so that a wider screen gets it back.
    text.dataset.size ??= text.getAttribute("font-size") ?? getComputedStyle(text).fontSize;
    const own = Number.parseFloat(text.dataset.size),
      least = LEAST / Math.sqrt(Math.abs(m.a * m.d - m.b * m.c)),
      size = Math.max(own, least);
    if (size === own && !text.dataset.larger) continue;
    text.setAttribute("font-size", size.toFixed(2));
    text.removeAttribute("dx");
    text.style.removeProperty("visibility");
    text.style.removeProperty("transform");
    text.dataset.larger = size > own ? "yes" : "";
    if (size > own) changed.push({ text, m });
  }
  if (!changed.length) return;
  for (const { text, m } of changed) {
    if (Math.abs(m.b) > 1e-6 || text.firstElementChild) continue;
    const box = text.getBoundingClientRect();
    const out = Math.max(0, outer.left + 1 - box.left) - Math.max(0, box.right - outer.right + 1);
    if (out) text.setAttribute("dx", (out / m.a).toFixed(2));
  }
  const larger = new Set(changed.map((c) => c.text));
  leaveOut(all, larger);
  moveApart(all, changed, outer);
}

// A name that would now meet another moves up or down to where it does not, if there is such a place near on the sheet.
/** @type {(all: SVGTextElement[], changed: { text: SVGTextElement, m: DOMMatrix }[], outer: DOMRect) => void} */
function moveApart(all, changed, outer) {
  for (const { text, m } of changed) {
    if (text.style.visibility || Math.abs(m.b) > 1e-6 || text.hasAttribute("dy")) continue;
    const others = all.filter((t) => t !== text && !t.style.visibility).map(inkBox),
      box = inkBox(text),
      tall = box.bottom - box.top;
    const free = (by) =>
      box.top + by >= outer.top &&
      box.bottom + by <= outer.bottom &&
      !others.some((o) => meet({ ...box, top: box.top + by, bottom: box.bottom + by }, o));
    const by = [0, -0.5, 0.5, -1, 1].map((part) => part * tall).find(free);
    if (by) text.style.transform = `translateY(${(by / m.d).toFixed(2)}px)`;
  }
}

// Figures of a scale give way to names, and among them the later to the earlier.
/** @type {(all: SVGTextElement[], changed: Set<SVGTextElement>) => void} */
function leaveOut(all, changed) {
  const figure = (text) => changed.has(text) && FIGURE.test(text.textContent);
  const kept = all.filter((t) => !figure(t)).map(inkBox);
  for (const text of all.filter(figure)) {
    const box = inkBox(text);
    if (kept.some((other) => meet(box, other))) text.style.visibility = "hidden";
    else kept.push(box);
  }
}

/** @type {(text: SVGTextElement) => Box} */
function inkBox(text) {
  const { left, right, top, bottom } = text.getBoundingClientRect(),
    tall = bottom - top;
  // What a row keeps free above capitals and below the line.
  return { left, right, top: top + tall * 0.15, bottom: bottom - tall * 0.1 };
}

/**
 * Keeps every drawing within an element readable, whatever becomes of it or of the screen.
 * @type {(within: Element) => void}
 */
export function watchDrawings(within) {
  const waiting = new Set();
  const soon = (svg) => {
    if (!waiting.size)
      requestAnimationFrame(() => {
        const now = [...waiting];
        waiting.clear();
        for (const each of now) if (each.isConnected) keepReadable(each);
      });
    waiting.add(svg);
  };
  const everyOne = () => {
    for (const svg of within.querySelectorAll("svg")) if (!svg.ownerSVGElement) soon(svg);
  };
  const outermost = (node) => {
    let svg = (node.nodeType === 1 ? node : node.parentElement)?.closest("svg");
    while (svg?.ownerSVGElement) svg = svg.ownerSVGElement;
    return svg;
  };
  new MutationObserver((changes) => {
    for (const { target, addedNodes } of changes) {
      const svg = outermost(target);
      if (svg) soon(svg);
      else if ([...addedNodes].some((n) => n instanceof Element && (n.matches("svg") || n.querySelector("svg"))))
        everyOne();
    }
  }).observe(within, { childList: true, characterData: true, subtree: true });
  new ResizeObserver(everyOne).observe(within);
}
