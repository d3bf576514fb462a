"""The command that prints tags: which ones, on what, and what it says when it cannot."""

import json
from io import StringIO

import pypdfium2
import pytest
from django.core.management import CommandError, call_command

from shared.paper import document
from tests.shared.paper import phones
from tests.shared.paper.needs import pango
from tests.tooling.views.conftest import morning
from tests.tooling.views.works import ago, do, mold
from tooling.models import Place, Summary, TagCode, Tool

__all__ = ["morning"]
SITE = "https://shop.example"


@pytest.fixture
def shop(morning, settings):
    """Three molds in two racks, one of them held, one retired; a shelf in the first rack."""
    settings.SITE_URL = SITE
    rack, other = (Place.objects.create(code=code, name=f"Rack {code}") for code in ("R1", "R2"))
    shelf = Place.objects.create(code="R1.2", name="Shelf 2", parent=rack)
    for code, home in (("DECK-1", rack), ("DECK-2", shelf), ("HULL-1", other)):
        Summary.objects.filter(tool=mold(code, morning)).update(home=home)
    do("hold", Tool.objects.get(code="DECK-2"), at=ago(hours=1), note="a crack")
    Summary.objects.filter(tool__code="HULL-1").update(retired=True)


@pytest.fixture
def printed(shop, tmp_path):
    """What the command said, and the texts of the pages that it made."""
    path = tmp_path / "tags.pdf"

    def run(*words):
        said, warned = StringIO(), StringIO()
        call_command("tags", *words, "--output", str(path), stdout=said, stderr=warned)
        pages = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(path.read_bytes())]
        return said.getvalue(), warned.getvalue(), pages

    run.path = path
    return run


def codes_of(pages):
    return [page.split()[0] for page in pages]


@pango
def test_those_named_are_printed_each_once_in_their_order(printed):
    said, warned, pages = printed("hull-1", "DECK-1", "DECK-1")
    assert codes_of(pages) == ["HULL-1", "DECK-1"]
    assert (said, warned) == (f"{printed.path}: 2 tags on 2 pages, label.\n", "")
    assert phones.read(phones.pages(printed.path.read_bytes(), 150)[0]) == ["HTTPS://SHOP.EXAMPLE/T/HULL-1/"]


@pango
def test_all_leaves_out_none_and_a_place_has_those_within_it(printed):
    assert codes_of(printed("--all")[2]) == ["DECK-1", "DECK-2", "HULL-1"]
    assert codes_of(printed("--place", "r1")[2]) == ["DECK-1", "DECK-2"]
    assert codes_of(printed("--places")[2]) == ["R1", "R1.2", "R2"]
    assert codes_of(printed("--places", "--place", "R1")[2]) == ["R1", "R1.2"]
    assert codes_of(printed("--places", "R2")[2]) == ["R2"]
    assert phones.read(phones.pages(printed.path.read_bytes(), 150)[0]) == ["HTTPS://SHOP.EXAMPLE/P/R2/"]


@pango
def test_held_tags_are_of_those_that_are_held(printed):
    (page,) = printed("--held", "--all", "--stock", "a7")[2]
    assert "Held: do not use" in page
    assert "a crack" in page
    with pytest.raises(CommandError, match=r"Not held, or retired, so that no tag hangs on it: DECK-1, HULL-1\."):
        printed("--held", "DECK-1", "DECK-2", "HULL-1")


@pango
def test_a_sheet_begins_at_its_first_free_place(printed):
    said, _warned, pages = printed("--all", "--stock", "a4-sheet", "--start", "7", "--cut-marks", "--format", "json")
    assert json.loads(said) == {
        "file": str(printed.path), "stock": "a4-sheet", "tags": 3, "pages": 2, "left_out": {}, "warnings": [],
    }  # fmt: skip
    assert ["DECK-1" in pages[0], "DECK-2" in pages[0], "HULL-1" in pages[1]] == [True] * 3


@pango
def test_a_size_of_ones_own_and_no_gates(printed):
    said, _warned, pages = printed("DECK-1", "--size", "90x50", "--no-gates")
    assert "1 tag on 1 page, custom." in said
    assert "pulls" not in pages[0]
    size = pypdfium2.PdfDocument(printed.path.read_bytes())[0].get_size()
    assert [round(side * 25.4 / 72, 1) for side in size] == [90, 50]
    assert "pulls" in printed("DECK-1")[2][0]


@pango
@pytest.mark.parametrize(
    ("site", "reserved", "said"),
    [
        ("http://127.0.0.1:8000", "", "A phone cannot open these tags"),
        ("http://192.168.1.20:8000", "", "A lead has it reserved there for this machine and says so under Tags."),
        ("http://192.168.1.20:8000", "http://192.168.1.20:8000", ""),
        ("https://shop.example", "", ""),
    ],
)
def test_an_address_that_phones_may_not_find_is_warned_about_and_printed(printed, settings, site, reserved, said):
    from tooling.models import Shop

    settings.SITE_URL = site
    Shop.objects.update(tag_address=reserved)
    _said, warned, pages = printed("DECK-1")
    assert len(pages) == 1
    assert said in warned
    assert bool(said) is bool(warned)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["NONE-1", "DECK-1", "NONE-2"], r"There is no tool NONE-1, NONE-2\."),
        (["--place", "R9"], r"There is no place R9\."),
        (["--places", "R1", "DECK-1"], r"There is no place DECK-1\."),
        ([], "Say which tags"),
        (["DECK-1", "--all"], "one of them"),
        (["--places", "--all"], "tags of places"),
        (["DECK-1", "--stock", "a5"], "There is no stock “a5”"),
        (["DECK-1", "--size", "90"], "is no size"),
        (["DECK-1", "--stock", "a4-sheet", "--start", "9"], "places 1 to 8"),
        (["DECK-1", "--start", "2"], "only a sheet"),
        (["DECK-1", "--cut-marks"], "nothing to cut"),
        (["DECK-1", "--stock", "custom"], "The stock custom wants a size, such as 90x50"),
        (["--held", "--place", "R2"], "no tag to print: none of these tools is held"),
        (["--place", "R3"], "no tag to print: no tool and no place is left"),
        (["DECK-1", "--output", "."], r"\. is a folder: name the file in it"),
    ],
)
def test_what_cannot_be_printed_is_said_and_nothing_is_written(shop, tmp_path, monkeypatch, words, said):
    Place.objects.create(code="R3", name="Rack R3")
    monkeypatch.setattr(document.libraries, "missing", lambda: ["pango-1.0"])
    with pytest.raises(CommandError, match=said):
        call_command("tags", "--output", str(tmp_path / "tags.pdf"), *words, stdout=StringIO())
    assert list(tmp_path.iterdir()) == []


@pango
def test_a_file_that_was_there_stays_until_the_new_one_is_whole(printed):
    printed("DECK-1")
    before = printed.path.read_bytes()
    with pytest.raises(CommandError, match="have no room"):
        printed("--all", "--size", "20x20")
    assert printed.path.read_bytes() == before
    with pytest.raises(CommandError, match="cannot be written: No such file or directory"):
        call_command("tags", "DECK-1", "--output", str(printed.path / "no" / "x.pdf").replace("tags.pdf", "none"))
    assert TagCode.objects.get(tool__code="DECK-1").address == "HTTPS://SHOP.EXAMPLE/T/DECK-1/"
