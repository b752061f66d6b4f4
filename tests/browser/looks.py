"""What holds for every page: it fits its width, and the accessibility checker finds nothing serious."""

from __future__ import annotations

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

AXE = Axe()
GRAVE = ("serious", "critical")
COLORS = {
    "color-contrast": "[data-looked-at], [data-looked-at] *",
    "link-in-text-block": "a[href][data-looked-at], [role=link][data-looked-at], "
    "[data-looked-at] a[href], [data-looked-at] [role=link]",
}
"""Rules of what stands out from what, with what each is asked of: by far the dearest."""
LOOKS = (("desk", "light"), ("phone", "dark"))
"""Sizes and schemes a page is looked at in: what fits depends on the size alone, what stands out on the scheme."""

MARK = """() => {
  const kinds = new Map();
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('svg') || ![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
    let kind = '';
    for (let a = e; a; a = a.parentElement) kind += a.localName + '.' + (a.getAttribute('class') ?? '') + ' < ';
    const alike = kinds.get(kind) ?? 0;
    if (alike < 3 && e.checkVisibility()) { kinds.set(kind, alike + 1); e.setAttribute('data-looked-at', ''); }
  }
  return kinds.size;
}"""
"""Marks the first three texts of each kind; elements with the same classes all the way up are colored alike."""
RUN = """([grave, colors]) => {
  // One run, so that the page is read once: colors of the marked texts, every other rule of everything.
  axe.configure({rules: Object.entries(colors).map(([id, selector]) => ({id, selector}))});
  // A rule that is never grave by the checker's own word need not be asked.
  const mild = axe._audit.rules.filter((rule) => !grave.includes(rule.impact));
  const rules = Object.fromEntries(mild.map((rule) => [rule.id, {enabled: false}]));
  return axe.run({resultTypes: ['violations'], rules}).then((found) => {
    document.querySelectorAll('[data-looked-at]').forEach((e) => e.removeAttribute('data-looked-at'));
    return found.violations;
  });
}"""


def check_fits(page: Page) -> None:
    """Nothing is wider than the window, and no text is cut."""
    wide = page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    assert wide[0] <= wide[1], f"{page.url} is {wide[0]} px wide in a window of {wide[1]}"


def check_axe(page: Page) -> None:
    """No serious or critical violation.

    What stands out from what, by far the dearest to find, is asked of three texts of each kind and not of every row
    of a long list.
    """
    page.evaluate(AXE.axe_script)
    page.evaluate(MARK)
    found = page.evaluate(RUN, [list(GRAVE), COLORS])
    grave = [f"{v['id']}: {v['nodes'][0]['html'][:160]}" for v in found if v["impact"] in GRAVE]
    assert not grave, f"{page.url}\n" + "\n".join(grave)


def check_targets(page: Page) -> None:
    """What a finger presses is at least 24 px high, or a link within a line of text (WCAG 2.2, 2.5.8)."""
    small = page.evaluate(
        """() => [...document.querySelectorAll('button, input:not([type=hidden]), select, summary, nav a')]
          .filter(e => e.checkVisibility() && !e.closest('.hush') && !e.classList.contains('hush'))
          .filter(e => { const b = e.getBoundingClientRect(); const l = e.closest('label')?.getBoundingClientRect();
            return Math.max(b.height, l ? l.height : 0) < 24; })
          .map(e => e.outerHTML.slice(0, 120))"""
    )
    assert small == [], f"{page.url}\n" + "\n".join(small)
