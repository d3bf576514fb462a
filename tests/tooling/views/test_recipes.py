"""Release recipes: the list, one with its versions, a lead's change, starter recipes."""

import pytest
from django.urls import reverse

from tests.tooling.views.works import mold, recipe
from tooling.models import NO_SOURCE, RecipeVersion, ReleaseSystem, Span
from tooling.services.starters import STARTERS

pytestmark = pytest.mark.django_db
RECIPES = "/recipes/"
WAX = "/recipes/WAX/"
CHANGE = "/recipes/WAX/change/"


@pytest.fixture
def typed(sign_in, morning):
    """The form of a change as it stands on the screen of a lead."""
    form = sign_in("lead").get(CHANGE).context["form"]
    values = {name: form[name].value() for name in form.fields}
    return {"do": "save", **{name: "" if value is None else value for name, value in values.items()}}


def test_a_stranger_is_asked_to_sign_in(client):
    for address in (RECIPES, WAX, CHANGE):
        assert client.get(address).url == f"/sign-in/?next={address}"


def test_a_reader_sees_recipes_and_changes_none(sign_in, morning):
    client = sign_in("reader")
    assert "<b>4 pulls</b> between coats." in client.get(RECIPES).text
    assert CHANGE not in client.get(WAX).text
    assert client.get(CHANGE).status_code == 403
    assert client.post(CHANGE).status_code == 403
    assert client.post(reverse("take_in_recipe", args=["SEMI"])).status_code == 403
    assert ReleaseSystem.objects.count() == 1


def test_starter_recipes_are_offered_and_say_that_they_have_no_source(sign_in):
    text = sign_in("lead").get(RECIPES).text
    assert "The shop has no recipe yet." in text
    assert "common practice, no source: set your own" in text
    for code in STARTERS:
        assert f'action="{reverse("take_in_recipe", args=[code])}"' in text


def test_a_starter_recipe_is_taken_in_and_twice_is_harmless(sign_in):
    client = sign_in("lead")
    address = reverse("take_in_recipe", args=["WAX"])
    assert client.get(address).status_code == 405
    for _ in range(2):
        assert client.post(address).url == WAX
    assert RecipeVersion.objects.get().system.code == "WAX"
    assert client.post(reverse("take_in_recipe", args=["NONE"])).status_code == 404
    assert "common practice, no source: set your own" in client.get(WAX).text
    assert reverse("take_in_recipe", args=["WAX"]) not in client.get(RECIPES).text


def test_a_starter_recipe_is_marked_until_the_shop_has_set_its_numbers(sign_in, typed, morning):
    morning.versions.update(supplier_sheet="common practice, no source: set your own")
    client, mark = sign_in("lead"), "<b>Common practice, no source: set your own.</b>"
    assert mark in client.get(RECIPES).text
    assert mark in client.get(WAX).text
    client.post(CHANGE, {**typed, "supplier_sheet": str(NO_SOURCE), "name": "Our wax"})
    assert mark in client.get(RECIPES).text, "a name is no number"


def test_numbers_that_a_lead_has_set_are_the_shops_own(sign_in, typed, morning):
    morning.versions.update(supplier_sheet=str(NO_SOURCE))
    client = sign_in("lead")
    client.post(CHANGE, {**typed, "supplier_sheet": str(NO_SOURCE), "pulls_between": "6"})
    own, rest = "<b>The shop’s own numbers</b>", "The others are common practice, no source."
    for address, more in ((RECIPES, "."), (WAX, ": pulls between coats; as they are since")):
        text = client.get(address).text
        assert f"{own}{more}" in text
        assert rest in text
    morning.versions.update(supplier_sheet="sheet of June")
    assert rest not in client.get(WAX).text


def test_a_change_holds_from_now_on_and_lays_the_spans_anew(client, typed, morning):
    mold("DECK", morning, pulls=2)
    assert Span.objects.get(tool__code="DECK", status="ready").pulls_left == 2
    assert client.post(CHANGE, {**typed, "pulls_between": "6"}).url == WAX
    assert [version.pulls_between for version in morning.versions.in_order()] == [4, 6]
    assert Span.objects.get(tool__code="DECK", status="ready").pulls_left == 4
    text = client.get(WAX).text
    assert "<dt>Pulls between coats</dt><dd><del>4</del> <ins>6</ins></dd>" in text
    assert "Tue 12 May 07:40" in text
    assert text.index("Tue 12 May 07:40") < text.index("From the beginning")
    assert 'href="/tools/DECK/"' in text


def test_the_same_form_again_changes_nothing_more(client, typed, morning):
    changed = {**typed, "pulls_between": "6"}
    client.post(CHANGE, changed)
    reply = client.post(CHANGE, changed)
    assert "The recipe was changed meanwhile." in reply.text
    assert morning.versions.count() == 2


def test_a_form_without_a_change_is_refused(client, typed, morning):
    assert "Nothing is changed yet." in client.post(CHANGE, typed).text
    assert morning.versions.count() == 1


@pytest.mark.parametrize(
    ("column", "value", "wrong"),
    [
        ("pulls_between", "0", "A whole number from 1 to 500"),
        ("pulls_between", "2.5", "A whole number from 1 to 500"),
        ("pulls_between", "", "Fill this in."),
        ("coat_gap_minutes", "soon", "is no number"),
        ("max_touch_ups", "-1", "A whole number from 0 to 500"),
        ("break_in", "1,x", "is no number"),
        ("accepts", "NONE", "There is no recipe NONE."),
        ("family", "grease", "Choose one of those offered."),
        ("name", "\x00", "A sign in it cannot be kept."),
        ("name", "x" * 300, "At most 200 characters."),
    ],
)
def test_bad_input_is_said_at_its_field_and_what_was_typed_stays(client, typed, morning, column, value, wrong):
    reply = client.post(CHANGE, {**typed, "coats_again": "2", column: value})
    assert reply.status_code == 200
    assert wrong in reply.context["form"].errors[column][0]
    assert 'name="coats_again" value="2"' in reply.text
    assert morning.versions.count() == 1


def test_a_decimal_comma_is_read_as_in_the_sheets(client, typed, morning):
    given = {"cure_hours_touch_up": "1,5", "break_in": "1,2", "supplier_sheet": "1,5"}
    assert client.post(CHANGE, {**typed, **given}).status_code == 302
    new = morning.versions.order_by("-pk").first()
    assert (float(new.cure_hours_touch_up), new.break_in, new.supplier_sheet) == (1.5, "1,2", "1,5")


def test_what_is_wrong_is_said_first(client, typed, morning):
    page = client.post(CHANGE, {**typed, "pulls_between": "0"}).text
    assert page.index('<a href="#id_pulls_between">') < page.index("<h1")


def test_an_empty_limit_is_none(client, typed, morning):
    client.post(CHANGE, {**typed, "max_idle_days": "", "break_in": ""})
    assert morning.versions.in_order().last().max_idle_days is None
    assert "<dt>Most idle days</dt><dd><del>30 days</del> <ins>no limit</ins></dd>" in client.get(WAX).text


def test_a_temperature_is_read_and_typed_in_ones_own_units(client, sign_in, morning, lead):
    morning.versions.update(low_c=18)
    type(lead).objects.update(units="us")
    form = sign_in("lead").get(CHANGE).context["form"]
    stands = {name: form[name].value() for name in form.fields}
    typed = {"do": "save", **{name: "" if value is None else value for name, value in stands.items()}}
    assert typed["low_c"] == "64.4"
    assert form["low_c"].label.endswith(", in °F")
    assert "Nothing is changed yet." in client.post(CHANGE, typed).text
    client.post(CHANGE, {**typed, "low_c": "59"})
    assert morning.versions.in_order().last().low_c == 15
    assert "<del>64.4 °F</del> <ins>59 °F</ins>" in client.get(WAX).text


def test_other_case_leads_to_its_address_and_an_unknown_one_to_nothing(sign_in, morning):
    client = sign_in("reader")
    assert client.get("/recipes/wax/").url == WAX
    for code in ("NONE", "%00", "x" * 300):
        assert client.get(f"/recipes/{code}/").status_code == 404


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_rows_as_for_one(sign_in, morning, count, django_assert_num_queries):
    for number in range(count):
        mold(f"M-{number}", recipe(f"R-{number}"))
    client = sign_in("reader")
    with django_assert_num_queries(5):
        client.get(RECIPES)
    with django_assert_num_queries(9):
        client.get("/recipes/R-0/")
