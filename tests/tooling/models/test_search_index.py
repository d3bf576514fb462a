"""The index under the search: it is asked, it follows every write, and what lacks is said and laid again."""

import pytest
from django.db import connection

from shared.clock import now
from tests.tooling.rows import make_tool
from tooling.models import SearchText, Tool, search_index
from tooling.models.search import packed
from tooling.selectors.find import Words, with_words
from tooling.selectors.paging import COUNTED, ORDERS

pytestmark = pytest.mark.django_db


_OTHERS = [f"{start}{end}" for start in ("mold", "kayak", "shelf", "rack") for end in ("", "ing", "ed", "520", "side")]


@pytest.fixture
def many():
    """Rows enough for a planner to prefer an index, which is laid over them: PostgreSQL puts off what comes singly."""
    search_index.lift(connection)
    tools = Tool.objects.bulk_create(Tool(code=f"T-{number}", kind="mold", name="Tool") for number in range(3000))
    SearchText.objects.bulk_create(
        SearchText(tool=tool, text=packed({f"word{tool.code}".lower(), *_OTHERS}), codes=packed({f"ct-{tool.pk}"}))
        for tool in tools
    )
    connection.check_constraints()
    search_index.lay(connection)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def plan(queryset):
    return queryset.explain()


@pytest.mark.sqlite
@pytest.mark.parametrize(
    ("words", "loosely"), [(["wordt-77"], False), (["t-77", "mold"], False), (["q"], False), (["wordt-7o"], True)]
)
def test_sqlite_asks_the_trigrams(many, words, loosely):
    said = plan(with_words(Tool.objects.all(), words, loosely))
    assert f"SCAN {search_index.FTS} VIRTUAL TABLE INDEX" in said
    assert "SCAN tooling_searchtext" not in said
    assert "SCAN tooling_tool" not in said


@pytest.mark.sqlite
@pytest.mark.parametrize(("words", "loosely"), [(["w"], False), (["kayak", "mold"], False), (["ct-"], True)])
@pytest.mark.parametrize("order", ["code", "name"])
def test_sqlite_walks_the_order_for_words_that_many_have(many, words, loosely, order):
    first = ORDERS[order].of(with_words(Tool.objects.all(), words, loosely), now(), False)[:50]
    said = plan(first)
    assert ("tool_name_code" if order == "name" else "INDEX sqlite_autoindex_tooling_tool_1") in said
    assert "TEMP B-TREE" not in said
    assert search_index.FTS not in said
    assert [tool.code for tool in first] == sorted(f"T-{number}" for number in range(3000))[:50]


def test_how_many_there_are_is_counted_to_a_thousand(many):
    asked = Words(["kayak"])
    assert asked.count(Tool.objects.all()) == asked.having == COUNTED + 1
    assert asked.count(Tool.objects.filter(code__startswith="T-77")) == 11
    assert Words(["wordt-77"]).count(Tool.objects.all()) == 11
    assert Words(["zwieback"]).count(Tool.objects.all()) == 0


@pytest.mark.postgresql
@pytest.mark.parametrize(
    ("words", "loosely"), [(["wordt-77"], False), (["wordt-77", "mold"], False), (["ct-77o"], True)]
)
def test_postgresql_asks_the_trigrams(many, words, loosely):
    said = plan(with_words(Tool.objects.all(), words, loosely))
    assert "Bitmap Index Scan on tooling_searchtext_text_trgm" in said
    assert "Seq Scan on tooling_searchtext" not in said
    assert ("tooling_searchtext_codes_trgm" in said) == loosely


def test_the_next_page_is_found_by_the_code_itself(many):
    by = ORDERS["code"]
    said = plan(by.of(Tool.objects.all(), now(), False).filter(by.beyond("T-2000", "T-2000", False))[:50])
    assert "USING COVERING INDEX" in said or "USING INDEX" in said or "Index" in said
    assert "TEMP B-TREE" not in said


def test_the_index_follows_every_write():
    tool = make_tool("A")

    def found(word):
        return with_words(Tool.objects.all(), [word]).exists()

    row = SearchText.objects.create(tool=tool, text=packed({"first"}))
    assert found("first")
    row.text = packed({"second"})
    row.save()
    assert (found("first"), found("second")) == (False, True)
    SearchText.objects.bulk_create(
        [SearchText(tool=tool, text=packed({"third"}))],
        update_conflicts=True, unique_fields=["tool"], update_fields=["text", "codes"],
    )  # fmt: skip
    assert (found("second"), found("third")) == (False, True)
    tool.delete()
    assert not found("third")


def test_all_is_there_after_migrate():
    assert search_index.missing(connection) == []
    assert search_index.search_has_its_index(None, databases=["default"]) == []


def test_what_lacks_is_said_and_laid_again_with_what_was_written_meanwhile():
    tool = make_tool("A")
    search_index.lift(connection)
    SearchText.objects.create(tool=tool, text=packed({"meanwhile"}))
    (said,) = search_index.search_has_its_index(None, databases=["default"])
    assert said.id == ("tooling.E002" if connection.vendor == "sqlite" else "tooling.W002")
    assert "migrate" in said.hint
    connection.check_constraints()
    search_index.lay(connection)
    assert search_index.missing(connection) == []
    assert with_words(Tool.objects.all(), ["meanwhile"]).exists()


@pytest.mark.postgresql
def test_without_the_right_to_make_the_extension_the_same_is_found(monkeypatch):
    tool = make_tool("A")
    SearchText.objects.create(tool=tool, text=packed({"notch"}))
    search_index.lift(connection)
    with connection.cursor() as cursor:
        cursor.execute("DROP EXTENSION pg_trgm")
        cursor.execute("CREATE ROLE nobody_much; GRANT ALL ON ALL TABLES IN SCHEMA public TO nobody_much")
        cursor.execute("SET LOCAL ROLE nobody_much")
    search_index.lay(connection)
    assert len(search_index.missing(connection)) == 2
    assert with_words(Tool.objects.all(), ["otc"]).exists()
