"""One reading of what was scanned, wherever a tool is asked for: the very tool of the tag, or none."""

from uuid import uuid4

import pytest

from tests.tooling.views.works import mold
from tooling.models import Entry, Place, PlaceAlias, ToolAlias
from tooling.selectors import scans
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop(morning):
    """An old code with slashes in it, beside tools that have what stands behind each of them."""
    old = mold("TN-OLD", morning)
    ToolAlias.objects.create(tool=old, code="OLD 7/3")
    ToolAlias.objects.create(tool=old, code="A/T/9")
    for code in ("3", "9", "B-1"):
        mold(code, morning)
    shelf = Place.objects.create(code="B-1", name="Rack B, shelf 1")
    PlaceAlias.objects.create(place=shelf, code="SHELF/1")
    Place.objects.create(code="1", name="Another")


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("3", "3"),
        (" tn-old ", "TN-OLD"),
        ("OLD 7/3", "TN-OLD"),
        ("old  7/3", "TN-OLD"),
        ("a/t/9", "TN-OLD"),
        ("HTTPS://SHOP.EXAMPLE/T/OLD%207/3/", "TN-OLD"),
        ("https://shop.example/t/old%207%2f3", "TN-OLD"),
        ("HTTP://192.0.2.7:8000/T/A/T/9/", "TN-OLD"),
        ("https://shop.example/tools/T/3/", "3"),
        ("https://shop.example/tools/3/?older=2#history", "3"),
        ("https://shop.example/t/b-1", "B-1"),
        ("NEW 7/3", None),
        ("X/T/9", None),
        ("/t/3/", None),
        ("https://shop.example/p/3/", None),
        ("https://shop.example/tools/3/move/", None),
        ("https://shop.example/t/%00/", None),
        ("https://shop.example/t//", None),
        ("https://shop.example/3", None),
        ("", None),
        ("/", None),
    ],
)
def test_a_tool_is_read_as_its_tag_says_it(shop, text, code):
    found = scans.tool(text)
    assert (found and found.code) == code


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("b-1", "B-1"),
        ("shelf/1", "B-1"),
        ("HTTPS://SHOP.EXAMPLE/P/B-1/", "B-1"),
        ("https://shop.example/p/shelf%2F1", "B-1"),
        ("https://shop.example/racks/B-1/?scanned=x", "B-1"),
        ("other/1", None),
        ("https://shop.example/t/B-1/", None),
    ],
)
def test_a_place_is_read_as_its_tag_says_it(shop, text, code):
    found = scans.place(text)
    assert (found and found.code) == code
    assert (scans.tag_of_place(text) is None) == ("://" not in text or code is None)


@pytest.mark.parametrize(
    ("typed", "seen"), [("OLD 7/3", "TN-OLD"), ("HTTPS://X/T/OLD%207/3", "TN-OLD"), ("NEW 7/3", None)]
)
def test_the_tool_of_the_tag_is_seen_and_no_other(shop, client, station, hand, typed, seen):
    client.force_login(station, backend="shared.access.RoleBackend")
    client.post("/racks/B-1/seen/", {"token": str(uuid4()), "at": "now", "tool": typed, "by": hand.pk})
    assert [entry.tool.code for entry in Entry.objects.filter(kind="moved")] == ([seen] if seen else [])


def test_find_and_made_from_read_it_alike(shop, client, reader):
    client.force_login(reader, backend="shared.access.RoleBackend")
    tag = "HTTPS://SHOP.EXAMPLE/T/OLD%207/3/"
    add_tool(code="COPY", kind="mold", name="Copy", made_from=scans.tool("TN-OLD"))
    for typed in ("OLD 7/3", tag):
        assert client.get("/tools/", {"q": typed, "go": "1"}).url == "/tools/TN-OLD/"
        found = client.get("/tools/", {"made_from": typed}).context["shown"]
        assert [one.row.tool.code for one in found] == ["COPY"]
