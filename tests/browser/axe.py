"""axe-core on a page as it stands, and whether it scrolls sideways."""

from pathlib import Path

AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text(encoding="utf-8")
OVER = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


# Only what is wrong is put together and handed over: all that is right would be most of the work. What is below 4.5:1
# is below 7:1 as well, so that the milder rule finds nothing besides; and no rule that is asked reads stylesheets.
FOUND = """() => axe.run({
  resultTypes: ["violations"], preload: {assets: ["media"]},
  rules: {"color-contrast": {enabled: false}, "color-contrast-enhanced": {enabled: true}},
}).then(
  found => found.violations.map(one => [one.id, one.nodes.slice(0, 3).map(node => node.html.slice(0, 120))]))"""


def faults(page):
    """What axe finds: the rule, and where. Words stand out at 7:1, since shops are dusty and badly lit (WCAG 1.4.6)."""
    page.evaluate(AXE)
    return page.evaluate(FOUND)
