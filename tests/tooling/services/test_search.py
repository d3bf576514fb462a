"""The words of tools, as each service that changes what they are made from leaves them."""

import pytest
from django.apps import apps
from django.db.models.signals import post_migrate

from shared import clock
from tests.tooling.views.works import do, mold, open_shop
from tooling.models import Place, SearchText, Tool, ToolAlias
from tooling.models.search import alike, fold, packed, pairs_of, split, words_of
from tooling.selectors.find import respelled, with_words, words_in
from tooling.selectors.tools import matching, sought
from tooling.services import search
from tooling.services.recheck import differences
from tooling.services.tools import relay, rules

pytestmark = pytest.mark.django_db


@pytest.fixture
def deck():
    rack = Place.objects.create(code="RACK-B", name="Rack B")
    shelf = Place.objects.create(code="B-2", name="Étagère 2", parent=rack)
    columns = {"name": "Straße, größer", "owner": "Øræby", "note": "has a notch", "place": shelf}
    return mold("DECK-2A", open_shop(), pulls=None, **columns)


def found(text, **more):
    return [tool.code for tool in with_words(Tool.objects.order_by("code"), words_in(text), **more)]


def level():
    """Whether everything stored is what it would be if it were made anew."""
    return [str(one) for one in differences(rules())] == []


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("  Ångström\tÉTÉ ", "angstrom ete"),
        ("STRASSE Straße", "strasse strasse"),
        ("Ærø Łódź İstanbul ıŞIK", "aero lodz istanbul isik"),
        ("ﬁne ½ ①", "fine 1/2 1"),
        ("O’Brien ‘bow–stern’ 3⅛″", "o'brien 'bow-stern' 3 1/8\""),
        ("5´ 520×300 a\u2011b bow…", "5' 520x300 a-b bow"),
        ("a\x00b", "a b"),
        ("", ""),
    ],
)
def test_letters_are_folded(text, folded):
    assert fold(text) == folded


def test_words_lose_the_signs_around_them_and_keep_those_within():
    assert split('"DECK-2A", (thumb).') == ["deck-2a", "thumb)."]
    assert words_of("DECK-2A") == {"deck-2a", "deck", "2a"}
    assert alike("hull52o") == "hull520"


@pytest.mark.parametrize(
    "text",
    ["deck-2a", "2A", "strasse", "grosser", "rosse", "oraeby", "NOTCH", "rack-b", "étag", "etagere deck", "d", "b 2"],
)
def test_a_tool_is_found_by_its_columns_and_places(deck, text):
    assert found(text) == ["DECK-2A"]


@pytest.mark.parametrize("text", ["zzz", "deck zzz", "x", "otc ot"])
def test_a_tool_is_not_found_by_what_it_lacks(deck, text):
    assert found(text) == []


def test_what_its_history_says_is_found_until_it_is_void(deck):
    pull = do("log_pull", deck, came_off="free", part="SK520-Deck", note="Slipped at the thumb")
    do("take_note", deck, note="gelcoat thin")
    assert found("sk520-d") == found("thumb gelc") == ["DECK-2A"]
    assert level()
    do("void", pull, reason="another mold")
    assert found("sk520-d") == found("slipped") == []
    assert found("another") == ["DECK-2A"]  # a reason is a word of the history as well
    assert level()


def test_a_correction_takes_the_old_words_away(deck):
    note = do("take_note", deck, note="blister")
    do("correct", note, reason="typed wrong", changes={"note": "bluster"})
    assert (found("blister"), found("bluster")) == ([], ["DECK-2A"])
    assert level()


def test_a_move_brings_the_words_of_the_place(deck):
    loft = Place.objects.create(code="LOFT", name="Upper loft")
    do("move", deck, place=loft)
    assert found("upper") == found("rack-b") == ["DECK-2A"]
    do("move", deck, place=loft, home=True)
    assert (found("upper"), found("rack-b")) == (["DECK-2A"], [])
    assert level()


def test_a_place_that_is_named_anew(deck):
    Place.objects.filter(code="RACK-B").update(name="Cold store")
    assert found("cold") == []
    search.keep_places(Place.objects.filter(code="RACK-B").values_list("pk", flat=True))
    assert found("cold") == ["DECK-2A"]


def test_most_pulls_add_no_word_and_write_nothing(deck, django_assert_num_queries):
    do("log_pull", deck, came_off="free", part="SK520-DECK")
    before = SearchText.objects.get(tool=deck)
    entry = do("log_pull", deck, came_off="free", part="SK520-DECK")
    with django_assert_num_queries(1):
        search.keep_entry(deck.summary, entry)
    entry.part = ""
    with django_assert_num_queries(0):
        search.keep_entry(deck.summary, entry)
    assert SearchText.objects.get(tool=deck).text == before.text


def test_what_was_changed_behind_the_services_is_said_and_mended(deck):
    ToolAlias.objects.create(tool=deck, code="OLD 7")
    Tool.objects.filter(pk=deck.pk).update(owner="Nobody")
    assert ["the search does not know all its words" in str(one) for one in differences(rules())] == [True]
    relay([deck.pk])
    assert found("nobody old") == ["DECK-2A"]
    assert level()


def test_tools_from_before_get_their_words_after_an_upgrade(deck):
    SearchText.objects.all().delete()
    post_migrate.send(apps.get_app_config("tooling"), app_config=apps.get_app_config("tooling"), using="default")
    assert found("notch") == ["DECK-2A"]


def test_0_and_o_are_alike_in_codes_only_when_asked(deck):
    do("log_pull", deck, came_off="free", part="SK520")
    assert (found("sk52o"), found("sk52o", loosely=True), found("n0tch", loosely=True)) == ([], ["DECK-2A"], [])
    assert found("ck", loosely=True) == ["DECK-2A"]


@pytest.mark.parametrize("text", ["o'brien", "O’Brien", "bow-stern", "bow–stern", "3 1/8", "3⅛", "3 1⁄8"])
def test_signs_of_a_phone_are_those_of_a_keyboard(deck, text):
    for note in ("Seam by O’Brien, bow–stern joint, 3⅛″ deep", "Seam by O'Brien, bow-stern joint, 3 1/8\" deep"):
        Tool.objects.filter(pk=deck.pk).update(note=note)
        search.keep([deck.pk])
        assert found(text) == ["DECK-2A"]


def test_one_letter_belongs_to_the_word_before_it(deck):
    arms = Place.objects.create(code="RACK-A", name="Rack A, lower arms")
    mold("BOW", deck.release_system, pulls=None, name="Bulkhead", place=arms)
    for text, codes in (
        ("rack b", ["DECK-2A"]),
        ("rack a", ["BOW"]),
        ("Rack B étag", ["DECK-2A"]),
        ("rack n", ["DECK-2A"]),  # nothing is called so: each word alone
    ):
        seen = sought(Tool.objects.all(), text, clock.now(), order="code", size=9)
        assert [Tool.objects.get(pk=pk).code for pk in seen.keys] == codes, text
        assert sorted(tool.code for tool in matching(Tool.objects.all(), text)) == codes
    assert level()


def test_the_nearest_word_is_offered_however_many_are_a_little_near(deck):
    others = Tool.objects.bulk_create(Tool(code=f"Q{n}", kind="mold", name="x") for n in range(300))
    rows = [SearchText(tool=tool, text=packed({tool.code.lower(), "kayakdeck", "sea"})) for tool in others]
    SearchText.objects.bulk_create(rows)
    last = Tool.objects.create(code="ZZ1", kind="mold", name="x")
    SearchText.objects.create(tool=last, text=packed({"kayakhull", *pairs_of("kayakhull k")}))
    assert respelled(Tool.objects.all(), ["kayakhulk"])[0] == "kayakhull"


def test_near_spellings(deck):
    assert respelled(Tool.objects.all(), ["strase"]) == ["strasse"]
    assert respelled(Tool.objects.all(), ["nocth", "deck"]) == ["notch deck"]
    assert respelled(Tool.objects.all(), ["qqqqqq"]) == []
    assert respelled(Tool.objects.all(), ["q"]) == []
