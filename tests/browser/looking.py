"""What is looked at on every page, worked out in the page itself: each gives a list of complaints."""

#: Names, headings, labels: what somebody who cannot see the page is told.
SPOKEN = """() => {
  const found = [];
  const many = (selector) => [...document.querySelectorAll(selector)];
  const shown = (one) => one.checkVisibility();
  const brief = (one) => one.outerHTML.slice(0, 110);
  if (many("h1").length !== 1) found.push(`${many("h1").length} headings of level 1`);
  if (!document.documentElement.lang) found.push("no language");
  if (!document.title.trim()) found.push("no title");
  let level = 1;
  for (const one of many("h1, h2, h3, h4").filter(shown)) {
    const now = Number(one.tagName[1]);
    if (now > level + 1) found.push(`level ${now} after ${level}: ${one.textContent.trim()}`);
    level = now;
  }
  const byId = (ids) => ids.split(/\\s+/).filter(Boolean);
  for (const one of many("input:not([type=hidden]), select, textarea")) {
    const words = [...(one.labels || [])].map((label) => label.textContent.trim()).join("");
    if (!words && !one.getAttribute("aria-label") && !one.getAttribute("aria-labelledby"))
      found.push(`no label: ${brief(one)}`);
  }
  for (const one of many("a[href], button, summary"))
    if (!(one.textContent.trim() || one.getAttribute("aria-label"))) found.push(`no words: ${brief(one)}`);
  for (const one of many("svg[role=img], img"))
    if (!(one.getAttribute("aria-label") || one.getAttribute("alt") || one.querySelector("title")))
      found.push(`no name: ${brief(one)}`);
  for (const name of ["aria-describedby", "aria-labelledby", "for"])
    for (const one of many(`[${name}]`))
      for (const id of byId(one.getAttribute(name)))
        if (!document.getElementById(id)) found.push(`${name} leads to no ${id}`);
  for (const one of many("a[href^='#']"))
    if (!document.getElementById(one.getAttribute("href").slice(1))) found.push(`dead link: ${brief(one)}`);
  const ids = many("[id]").map((one) => one.id);
  for (const id of new Set(ids.filter((one, at) => ids.indexOf(one) !== at))) found.push(`two of id ${id}`);
  for (const one of many("table")) if (!one.querySelector("th")) found.push(`no headings: ${brief(one)}`);
  for (const one of many("ul, ol"))
    for (const child of one.children)
      if (child.tagName !== "LI") found.push(`not a list item: ${brief(child)}`);
  return found;
}"""

#: Words against what is behind them: at least 4.5 to 1 (WCAG 2.2, 1.4.3 for text of any size).
FAINT = """() => {
  const found = new Set();
  const numbers = (colour) => {
    const parts = colour.match(/^rgba?\\(([^)]+)\\)$/);
    if (!parts) throw new Error(`cannot read the colour ${colour}`);
    const [r, g, b, a = 1] = parts[1].split(/[ ,/]+/).map(Number);
    return {rgb: [r, g, b], a};
  };
  const over = (top, below) => top.rgb.map((part, at) => part * top.a + below[at] * (1 - top.a));
  const light = (rgb) => {
    const [r, g, b] = rgb.map((part) => {
      const share = part / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (one) => {
    const layers = [];
    for (let at = one; at; at = at.parentElement) {
      const colour = numbers(getComputedStyle(at).backgroundColor);
      if (colour.a) layers.push(colour);
      if (colour.a === 1) break;
    }
    return layers.reverse().reduce((below, top) => over(top, below), [255, 255, 255]);
  };
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  let count = 0;
  while (texts.nextNode()) {
    const words = texts.currentNode.textContent.trim(), one = texts.currentNode.parentElement;
    if (!words || !one.checkVisibility({visibilityProperty: true, opacityProperty: true})) continue;
    if (["SCRIPT", "STYLE", "TITLE", "OPTION", "DESC"].includes(one.tagName.toUpperCase())) continue;
    if (one.closest(".vh, .skip, [disabled]")) continue;
    const style = getComputedStyle(one);
    const ink = numbers(one instanceof SVGElement ? style.fill : style.color), ground = behind(one);
    const [high, low] = [light(over(ink, ground)), light(ground)].sort((a, b) => b - a);
    const ratio = (high + 0.05) / (low + 0.05);
    count += 1;
    if (ratio < 4.5) found.add(`${ratio.toFixed(2)} to 1: ${words.slice(0, 50)} (${one.tagName})`);
  }
  if (count < 20) found.add(`only ${count} pieces of text were looked at`);
  return [...found].slice(0, 8);
}"""

#: What stands out to the right, if the page can be pushed sideways at all.
SIDEWAYS = """() => {
  const root = document.documentElement, found = [];
  if (root.scrollWidth <= root.clientWidth) return found;
  const scrolls = (one) => ["auto", "scroll"].includes(getComputedStyle(one).overflowX);
  const held = (one) => one && one !== document.body && (scrolls(one) || held(one.parentElement));
  for (const one of document.querySelectorAll("body *")) {
    const box = one.getBoundingClientRect();
    if (box.width && box.right > root.clientWidth + 1 && !held(one.parentElement))
      found.push(`${one.outerHTML.split(">")[0]}> to ${Math.round(box.right)}`);
  }
  return found.length ? found.slice(0, 8) : [`the page is ${root.scrollWidth} wide`];
}"""

#: What paper has no use for.
ON_PAPER = """() => [...document.querySelectorAll("nav, .find, .lamp, .skip, .zone, .btn")]
  .filter((one) => one.checkVisibility()).map((one) => one.outerHTML.slice(0, 90))"""

GROUND = "() => getComputedStyle(document.querySelector('.sheet')).backgroundColor"
