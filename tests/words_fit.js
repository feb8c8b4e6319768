// Which words of this document are cut, broken, too small, in a column one word wide, or over others?
() => {
  const LEAST = 11, // px
    INTO = 2.5, // px by which boxes may enter each other: side bearings, tight rows
    found = new Set(),
    boxes = [],
    blocks = new Map(),
    pen = document.createElement("canvas").getContext("2d");
  const brief = (text) => `'${text.trim().replace(/\s+/g, " ").slice(0, 60)}'`;
  const visible = (el) =>
    el.checkVisibility({ visibilityProperty: true, opacityProperty: true }) &&
    !el.closest(".apart, .skip, script, style, noscript, title, desc, option, textarea");
  const aloft = (el) => {
    for (let e = el; e && e.nodeType === 1; e = e.parentElement)
      if (["fixed", "sticky"].includes(getComputedStyle(e).position)) return true;
    return false;
  };
  const inkOf = (el, text) => {
    const s = getComputedStyle(el);
    pen.font = `${s.fontStyle} ${s.fontWeight} ${s.fontSize} ${s.fontFamily}`;
    return pen.measureText(text);
  };
  // By how much a box sticks out of what cuts it, and by what.
  const cutBy = (el, box) => {
    for (let e = el; e; e = e.parentElement) {
      const s = getComputedStyle(e);
      if (e === document.documentElement) break;
      const root = e.tagName === "svg" && s.overflow !== "visible";
      const r = e.getBoundingClientRect();
      if (root || ["hidden", "clip"].includes(s.overflowX)) {
        const out = Math.max(r.left - box.left, box.right - r.right, r.top - box.top, box.bottom - r.bottom);
        if (out > 1.5) return `${out.toFixed(0)} px by ${e.tagName.toLowerCase()}.${e.getAttribute("class") || e.id}`;
      }
      if (["auto", "scroll"].includes(s.overflowX)) return "";
    }
    const out = Math.max(-box.left, box.right - innerWidth);
    return out > 1.5 ? `${out.toFixed(0)} px by the screen` : "";
  };
  const blockOf = (el) => {
    let e = el;
    while (e.parentElement && getComputedStyle(e).display.startsWith("inline")) e = e.parentElement;
    return e;
  };
  const rows = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = rows.nextNode(); node; node = rows.nextNode()) {
    const el = node.parentElement;
    if (!node.data.trim() || el.ownerSVGElement || !visible(el)) continue;
    const size = parseFloat(getComputedStyle(el).fontSize);
    if (size < LEAST) found.add(`${size.toFixed(1)} px: ${brief(node.data)}`);
    const range = document.createRange(), lines = [], block = blockOf(el);
    if (!blocks.has(block)) blocks.set(block, []);
    for (const word of node.data.matchAll(/[^\s\-–—/]+[-–—/]?/g)) {
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const parts = [...range.getClientRects()].filter((r) => r.width > 0.5);
      if (!parts.length) continue;
      if (parts.some((r) => Math.abs(r.bottom - parts[0].bottom) > 3))
        found.add(`broken: '${word[0]}' in ${brief(node.data)}`);
      for (const r of parts) {
        blocks.get(block).push([r.bottom, word[0]]);
        const last = lines.at(-1);
        if (last && Math.abs(last.bottom - r.bottom) < 3 && r.left >= last.left) last.right = r.right;
        else lines.push({ left: r.left, right: r.right, top: r.top, bottom: r.bottom });
      }
    }
    const high = aloft(el);
    for (const line of lines) {
      const middle = (line.top + line.bottom) / 2, half = size * 0.34;
      const box = { left: line.left, right: line.right, top: middle - half, bottom: middle + half };
      const cut = cutBy(el, box);
      if (cut) found.add(`cut ${cut}: ${brief(node.data)}`);
      if (!high)
        boxes.push({ el, text: node.data, corners: [[box.left, box.top], [box.right, box.top], [box.right, box.bottom], [box.left, box.bottom]] });
    }
  }
  for (const [block, words] of blocks) {
    const each = new Map();
    for (const [bottom] of words) {
      const at = Math.round(bottom / 4);
      each.set(at, (each.get(at) ?? 0) + 1);
    }
    if (words.length >= 4 && [...each.values()].every((n) => n === 1))
      found.add(`a column one word wide: ${brief(block.textContent)}`);
  }
  for (const el of document.querySelectorAll("input, select")) {
    if (!visible(el) || ["checkbox", "radio", "file", "range", "hidden", "date", "time"].includes(el.type)) continue;
    const s = getComputedStyle(el), text = el.tagName === "SELECT" ? el.selectedOptions[0]?.text ?? "" : el.value || el.placeholder;
    const room = el.clientWidth - parseFloat(s.paddingLeft) - parseFloat(s.paddingRight) - (el.tagName === "SELECT" ? 16 : 0);
    const wide = inkOf(el, text).width;
    if (parseFloat(s.fontSize) < LEAST) found.add(`${s.fontSize}: ${brief(text)}`);
    if (wide > room + 1 && document.activeElement !== el) found.add(`cut ${(wide - room).toFixed(0)} px by its field: ${brief(text)}`);
  }
  for (const el of document.querySelectorAll("svg text")) {
    const text = el.textContent;
    if (!text.trim() || !visible(el)) continue;
    const m = el.getScreenCTM(), b = el.getBBox(), scale = Math.sqrt(Math.abs(m.a * m.d - m.b * m.c));
    const size = parseFloat(getComputedStyle(el).fontSize) * scale;
    if (size < LEAST - 0.05) found.add(`${size.toFixed(1)} px: ${brief(text)}`);
    const ink = inkOf(el, text), y = el.y.baseVal.length ? el.y.baseVal[0].value : b.y;
    const one = el.querySelectorAll("tspan").length < 2;
    const top = one ? y - ink.actualBoundingBoxAscent : b.y, low = one ? y + ink.actualBoundingBoxDescent : b.y + b.height;
    const corners = [[b.x, top], [b.x + b.width, top], [b.x + b.width, low], [b.x, low]].map(([x, z]) => [m.a * x + m.c * z + m.e, m.b * x + m.d * z + m.f]);
    const xs = corners.map((c) => c[0]), ys = corners.map((c) => c[1]);
    const cut = cutBy(el.ownerSVGElement, { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) });
    if (cut) found.add(`cut ${cut}: ${brief(text)}`);
    if (!aloft(el.ownerSVGElement)) boxes.push({ el, text, corners });
  }
  const depth = (a, b) => {
    let least = Infinity;
    for (const box of [a, b])
      for (const k of [0, 1]) {
        const [p, q] = [box[k], box[k + 1]], size = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
        const u = [(q[0] - p[0]) / size, (q[1] - p[1]) / size];
        const [[a0, a1], [b0, b1]] = [a, b].map((c) => {
          const along = c.map(([x, y]) => x * u[0] + y * u[1]);
          return [Math.min(...along), Math.max(...along)];
        });
        least = Math.min(least, a1 - b0, b1 - a0);
      }
    return least;
  };
  for (let i = 0; i < boxes.length; i += 1)
    for (let j = i + 1; j < boxes.length; j += 1) {
      const [a, b] = [boxes[i], boxes[j]];
      const far = depth(a.corners, b.corners);
      if (far > INTO) found.add(`over each other by ${far.toFixed(0)} px: ${brief(a.text)} and ${brief(b.text)}`);
    }
  return [...found];
}
