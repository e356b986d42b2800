"""Scripts that look at the page in a browser, and what is made of what they see."""

from __future__ import annotations

import re

from finishsched.bench.drawing.themes import THEMES
from finishsched.bench.touch.page import COLOURS

CHANGED_UNDER_A_FINGER = """
const done = arguments[0];
import('/page/buttons.js').then(async ({Buttons}) => {
  const bar = document.body.appendChild(document.createElement('div')), taps = [];
  const buttons = new Buttons(bar, (...tap) => taps.push(tap), () => {});
  const offer = (of, words) =>
    buttons.show({of, screen: 'card', buttons: [{action: words, words, rank: 'main'}]}, 1);
  offer(1, 'ready');
  bar.dispatchEvent(new PointerEvent('pointerdown'));
  offer(2, 'other');
  const held = bar.textContent;
  window.dispatchEvent(new PointerEvent('pointerup'));
  bar.querySelector('button').click();
  await new Promise(over => setTimeout(over, 200));
  const after = bar.textContent;
  bar.remove();
  done({held, taps, after});
});
"""
SEEN_BY_A_FINGER = """
const done = arguments[0];
import('/page/stood.js').then(({Stood}) => {
  let at = 0;
  const stood = new Stood(() => at), found = [];
  for (const [to, number] of [[0, 1], [1000, 2], [1100, 3], [1239, 3], [1339, 3], [1341, 3]]) {
    at = to;
    stood.take({of: 1, seen: number});
    found.push(stood.seen.seen);
  }
  done(found);
});
"""
DRESSED = """
[...document.querySelectorAll('button, button small, button b, input, h1, h2, p, label span')]
  .filter(e => e.checkVisibility() && e.innerText !== '').map(e => {
    const own = getComputedStyle(e);
    let under = e;
    const fill = of => getComputedStyle(of).backgroundColor;
    while (/rgba\\(.*, 0\\)/.test(fill(under))) under = under.parentElement;
    const border = e.matches('button, input') ? own.borderTopColor : '';
    return [e.innerText || e.name, own.color, fill(under), border, fill(document.body)];
  })
"""


def luminance(colour):
    """Return the relative luminance of a CSS colour (WCAG 2.2, glossary)."""
    channels = [int(c) / 255 for c in re.findall(r"\d+", colour)[:3]]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """Return the contrast of two colours (WCAG 2.2, glossary)."""
    lights = sorted((luminance(one), luminance(other)))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


def wear(page, theme):
    """Have the page wear the colours of a theme, as the bench would tell it."""
    known = THEMES[theme]
    names = {
        **known.variables,
        **{n: getattr(known, n) for n in ("background", "surface", "panel")},
    }
    names["foreground"] = known.foreground
    for name, ours in COLOURS.items():
        page.driver.execute_script(
            "document.documentElement.style.setProperty(arguments[0], arguments[1])",
            f"--{name}",
            names[ours],
        )
