"""Without a mouse: past the header, to a tool, into it, and a change of it; where one is can be seen all the way."""

from tests.browser import demo
from tooling.models import Tool

# What is focused, and whether that can be seen: an outline, or a border or shadow in its stead
FOCUSED = """() => {
  const e = document.activeElement, drawn = e.closest(".chip")?.querySelector("span") ?? e;
  const [own, after] = [getComputedStyle(drawn), getComputedStyle(e, "::after")];
  const seen = [own, after].some(s => s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2)
    || own.boxShadow !== "none";
  return [e.name || e.innerText?.trim() || e.id, seen];
}"""


def tab_to(page, words, most=60):
    """Presses Tab until what is called so is focused; on the way nothing is focused unseen."""
    passed = []
    for _ in range(most):
        page.keyboard.press("Tab")
        called, seen = page.evaluate(FOCUSED)
        assert seen, f"{called} is focused, and nothing shows it"
        if called == words:
            return passed
        passed.append(called)
    raise AssertionError(f"{words} is not reached: {passed}")


def test_a_tool_is_found_opened_and_changed(transactional_db, opened):
    demo.load()
    page = opened("Ines", 1280)
    page.goto("/")
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUSED) == ["To the page", True]
    assert page.get_by_text("To the page").bounding_box()["y"] >= 0
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"

    page.goto("/")
    assert tab_to(page, "Find")[:1] == ["To the page"]
    page.keyboard.press("Enter")
    page.wait_for_url("**/tools/")
    assert page.evaluate("document.activeElement.name") == "q"
    page.keyboard.type("skeg box")
    page.locator("#told").get_by_text("skeg box").wait_for(state="attached")
    passed = tab_to(page, "SKEGBOX")
    assert passed.index("kind") < passed.index("place") < passed.index("view")
    page.keyboard.press("Enter")
    page.wait_for_url("**/tools/SKEGBOX/")

    tab_to(page, "Change what stands here")
    page.keyboard.press("Enter")
    page.wait_for_url("**/change/")
    tab_to(page, "name")
    page.keyboard.press("End")
    page.keyboard.type(", long keel")
    passed = tab_to(page, "Keep this")
    assert passed[-1] == "note"
    page.keyboard.press("Enter")
    page.wait_for_url("**/tools/SKEGBOX/")
    assert Tool.objects.get(code="SKEGBOX").name == "Skeg box, long keel"
    assert "Skeg box, long keel" in page.locator("main").inner_text()
