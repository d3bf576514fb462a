"""axe-core on a page as it stands, and whether it scrolls sideways."""

from pathlib import Path

AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text(encoding="utf-8")
OVER = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


def faults(page):
    """What axe finds: the rule, and where. Words stand out at 7:1, since shops are dusty and badly lit (WCAG 1.4.6)."""
    page.evaluate(AXE)
    found = page.evaluate("axe.run({rules: {'color-contrast-enhanced': {enabled: true}}})")["violations"]
    return [(one["id"], [node["html"][:120] for node in one["nodes"][:3]]) for one in found]
