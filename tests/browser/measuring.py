"""What can be measured of any page: widths, what is pressed, what keeps people out."""

from __future__ import annotations

from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]  # has none
from playwright.sync_api import Page

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]

LEAST = 24
"""For anything that is pressed. [CSS px] WCAG 2.2, 2.5.8: Target Size (Minimum)."""

TOUCH = 48
"""For what is pressed with a gloved finger; our own wish. [CSS px]"""

MAIN = (
    "button, summary, .actions a, .turn a, select, label:has(> input),"
    "input:not([type=hidden], [type=checkbox], [type=radio], [readonly])"
)

MEASURED = """([what, least]) => [...document.querySelectorAll(what)]
  .filter(each => each.checkVisibility({visibilityProperty: true}) && !each.closest('.skip'))
  .map(each => [each, each.getBoundingClientRect()])
  .filter(([each, box]) => Math.min(box.width, box.height) < least - 0.5)
  .map(([each, box]) => `${each.outerHTML.slice(0, 90)}: ${box.width} x ${box.height}`)"""

CROWDED = """least => {
  const isInText = each => getComputedStyle(each).display === 'inline' &&
    [...each.parentElement.childNodes].some(node => node.nodeType === 3 && node.data.trim());
  const all = [...document.querySelectorAll('a[href], button, summary, input:not([type=hidden])')]
    .filter(each => each.checkVisibility({visibilityProperty: true}) && !each.matches('.skip') &&
      !isInText(each) && !each.closest('label'))
    .map(each => [each, each.getBoundingClientRect()]);
  const middle = box => [box.x + box.width / 2, box.y + box.height / 2];
  const near = (one, other) => {
    const [x, y] = middle(one);
    const aside = Math.max(other.left - x, 0, x - other.right);
    const above = Math.max(other.top - y, 0, y - other.bottom);
    return Math.hypot(aside, above) < least / 2;
  };
  return all.filter(([each, box]) => Math.min(box.width, box.height) < least - 0.5 &&
      all.some(([other, its]) => other !== each && near(box, its)))
    .map(([each, box]) => `${each.outerHTML.slice(0, 90)}: ${box.width} x ${box.height}`);
}"""


def pushed_sideways(page: Page) -> float:
    """How much wider the page is than the window. [CSS px]"""
    found: float = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    return found


def too_small(page: Page) -> list[str]:
    """What is smaller than anything pressed may be, without room around it; links in text may."""
    found: list[str] = page.evaluate(CROWDED, LEAST)
    return found


def small(page: Page) -> list[str]:
    """What of the main things to press is lower than a finger wants."""
    found: list[str] = page.evaluate(MEASURED, [MAIN, TOUCH])
    return found


def barriers(page: Page) -> list[str]:
    """Rules of WCAG 2.2 A and AA that the page breaks, and where."""
    found = Axe().run(page, options={"runOnly": TAGS, "resultTypes": ["violations"]})
    return [
        f"{each['id']}: {node['html'][:200]}"
        for each in found.response["violations"]
        for node in each["nodes"]
    ]
