"""Many tags in one file: how far it is, and that it can be left at any time."""

from dataclasses import replace

import pytest
from pypdf import PdfReader

from shared.paper import sheets, stocks
from tests.shared.paper.needs import pango
from tests.tooling.rows import NOON, make_tool
from tests.tooling.services.test_tag_codes import SITE
from tooling.models import Summary
from tooling.services.tags.printing import Chosen, make

pytestmark = [pytest.mark.django_db, pango]


@pytest.fixture
def chosen():
    keys = []
    for number in range(5):
        tool = make_tool(f"K-{number}")
        Summary.objects.create(tool=tool)
        keys.append(tool.pk)
    return Chosen(tools=keys)


def printed(chosen, path, **options):
    return make(chosen, path, at=NOON, stock=stocks.stock("card"), units="metric", site_url=SITE, **options)


def test_a_long_run_is_joined_from_several_documents(chosen, tmp_path, monkeypatch):
    monkeypatch.setattr(sheets, "TAGS_A_DOCUMENT", 2)
    path, told = tmp_path / "tags.pdf", []
    done = printed(chosen, path, progress=lambda *said: told.append(said[:2]))
    assert (done.tags, done.pages) == (5, 5)
    assert told == [(number, 5) for number in range(6)]
    reader = PdfReader(path)
    assert [page.extract_text().split()[0] for page in reader.pages] == [f"K-{number}" for number in range(5)]
    assert reader.metadata.title == "Tags"


def test_left_in_the_middle_it_leaves_nothing(chosen, tmp_path):
    class Enough(Exception):
        pass

    def stop(done, of, words):
        if done == 3:
            raise Enough

    with pytest.raises(Enough):
        printed(chosen, tmp_path / "tags.pdf", progress=stop)
    assert list(tmp_path.iterdir()) == []


def test_a_tool_that_is_gone_has_no_tag(chosen, tmp_path):
    done = printed(replace(chosen, tools=[*chosen.tools, 0]), tmp_path / "tags.pdf")
    assert done.tags == 5
