// Run in the board's page: what stands where it should not. Returns sentences; none when all is well.
() => {
  const found = [], slack = 1.5; // pixels, for rounding
  const name = (e) => (e.id ? `#${e.id}` : `${e.parentElement.id ? `#${e.parentElement.id} ` : ""}`
    + `${e.tagName.toLowerCase()} "${e.textContent.trim().slice(0, 30)}"`);
  const visible = (e) => e.checkVisibility({visibilityProperty: true}) && !e.closest(".spoken");
  const box = (r) => ({left: r.left, top: r.top, right: r.right, bottom: r.bottom});
  const overflows = (e) => getComputedStyle(e).overflowY !== "visible";
  const scrolls = (e) => getComputedStyle(e).overflowY === "auto";
  const outside = (a, b) => a.left < b.left - slack || a.top < b.top - slack
    || a.right > b.right + slack || a.bottom > b.bottom + slack;
  const meet = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > slack
    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > slack;
  const page = {left: 0, top: 0, right: innerWidth, bottom: innerHeight};

  // A line of type is as high as its line height; the font's own box is higher than its letters.
  function lines(text) {
    const range = document.createRange(), style = getComputedStyle(text.parentElement);
    range.selectNodeContents(text);
    const high = parseFloat(style.lineHeight) || Infinity;
    return [...range.getClientRects()].filter((r) => r.width > 0).map((r) => {
      const spare = Math.max(0, (r.height - high) / 2);
      return {left: r.left, top: r.top + spare, right: r.right, bottom: r.bottom - spare};
    });
  }
  const all = [...document.body.querySelectorAll("*")].filter(visible);
  const items = []; // {of, box}: each line of text and each control or drawing
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let text; (text = walker.nextNode());) {
    if (!text.data.trim() || !visible(text.parentElement)) continue;
    for (const line of lines(text)) items.push({of: text.parentElement, text: true, box: line});
  }
  for (const e of all)
    if (e.matches("button, svg, #due")) items.push({of: e, text: false, box: box(e.getBoundingClientRect())});

  for (const item of items) {
    item.seen = item.box;
    for (let e = item.of; e && e !== document.documentElement; e = e.parentElement) {
      const around = box(e.getBoundingClientRect());
      if (scrolls(e)) { // what it scrolls out of sight meets nothing
        item.seen = {left: item.seen.left, right: item.seen.right,
          top: Math.max(item.seen.top, around.top), bottom: Math.min(item.seen.bottom, around.bottom)};
        if (item.box.right > around.right + slack) found.push(`${name(item.of)} is cut at the side`);
        break;
      }
      if ((overflows(e) || e.matches("button")) && item.of !== e && outside(item.box, around))
        found.push(`${name(item.of)} is cut by ${name(e)}`);
      if (item.text && item.of === e && (overflows(e) || e.matches("button, p, h2, dt, dd, li"))
        && outside(item.box, around)) found.push(`${name(item.of)} is cut`);
    }
    if (item.seen === item.box && outside(item.box, page))
      found.push(`${name(item.of)} leaves the page`);
  }
  for (let i = 0; i < items.length; i++)
    for (let j = i + 1; j < items.length; j++) {
      const a = items[i], b = items[j];
      if (a.of === b.of || a.of.contains(b.of) || b.of.contains(a.of)) continue;
      if (meet(a.seen, b.seen)) found.push(`${name(a.of)} meets ${name(b.of)}`);
    }
  for (const e of all)
    if (!scrolls(e) && e.clientHeight && !e.matches("svg, svg *")
      && (e.scrollWidth > e.clientWidth + slack || e.scrollHeight > e.clientHeight + slack)
      && (overflows(e) || e.matches("button, #answers, nav")))
      found.push(`${name(e)} holds more than it shows`);
  if (!items.length) found.push("nothing is shown");
  return [...new Set(found)];
}
