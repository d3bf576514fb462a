"""Parts: the list, one with what makes it, and what a lead adds and changes."""

import pytest

from tests.tooling.views.works import ago, do, mold
from tooling.models import Kind, Part, PartRevision, SetLine, Shop
from tooling.selectors.making import uses

pytestmark = pytest.mark.django_db
PARTS, DECK, NEW, REVISE = "/parts/", "/parts/SK520-DECK/", "/parts/new/", "/parts/SK520-DECK/revise/"


@pytest.fixture
def deck(morning):
    """A part with one revision."""
    part = Part.objects.create(number="SK520-DECK")
    return PartRevision.objects.create(
        part=part, revision="A", name="Sea kayak 520, deck", layup_minutes=150, in_mold_hours=24, cure_c=60
    )


def stands(client, address):
    form = client.get(address).context["form"]
    return {name: form[name].value() for name in form.fields}


def test_a_stranger_is_asked_to_sign_in(client, deck):
    for address in (PARTS, DECK, NEW, REVISE):
        assert client.get(address).url == f"/sign-in/?next={address}"


def test_the_list_says_how_long_and_what_makes_it(sign_in, deck, morning):
    do("log_pull", mold("DECK-2A", morning), at=ago(hours=1), part="sk520-deck")
    text = sign_in("reader").get(PARTS).text
    assert 'Lay-up <span class="nb">150 min</span>, in the mold <span class="nb">24 h</span>.' in " ".join(text.split())
    assert 'href="/tools/DECK-2A/"' in text
    assert NEW not in text


@pytest.mark.parametrize(("q", "count"), [("deck", 1), ("520 kayak", 1), ("hull", 0), ("%", 0), ("", 1), ("\x00", 0)])
def test_one_box_searches_number_and_name(sign_in, deck, q, count):
    assert len(sign_in("reader").get(PARTS, {"q": q}).context["parts"]) == count


def test_a_part_has_what_makes_it_and_its_revisions(sign_in, deck, morning):
    tool = mold("DECK-2A", morning)
    do("log_pull", tool, at=ago(hours=9), part="SK520-DECK", count=3)
    wrong = do("log_pull", mold("HULL", morning), at=ago(hours=2), part="SK520-DECK")
    do("void", wrong, reason="another part")
    do("lay_up", mold("NEWER", morning), at=ago(hours=1), part="SK520-DECK")
    client = sign_in("reader")
    makers = client.get(DECK).context["makers"]
    assert [(one.tool.code, one.count) for one in makers] == [("NEWER", 0), ("DECK-2A", 3)]
    text = client.get(DECK).text
    assert "Revision A" in text
    assert '<span class="nb">60 °C</span>' in text
    assert REVISE not in text
    assert client.get("/parts/sk520-deck/").url == DECK


def test_a_number_that_only_histories_name_has_a_page(sign_in, morning):
    do("log_pull", mold("DECK", morning), at=ago(hours=1), part="RUD/7 a")
    client = sign_in("lead")
    text = client.get("/parts/RUD/7%20a/").text
    assert "Nobody has written this part down yet; histories name it." in text
    assert 'href="/parts/new/?number=RUD%2F7%20a"' in text
    assert client.get("/parts/new/?number=RUD%2F7%20a").context["form"]["number"].value() == "RUD/7 a"
    for number in ("NONE", "%00", "x" * 300):
        assert client.get(f"/parts/{number}/").status_code == 404


def test_an_unknown_number_is_answered_with_those_like_it(sign_in, deck, morning):
    do("log_pull", mold("DECK", morning), at=ago(hours=1), part="RUD/7 a")
    reply = sign_in("lead").get("/parts/SK250-DEKC/")
    assert reply.status_code == 404
    assert reply.context["near"] == ["SK520-DECK"]
    assert f'href="{DECK}"' in reply.text
    assert 'href="/parts/new/?number=SK250-DEKC"' in reply.text
    assert 'value="SK250-DEKC"' in reply.text
    text = sign_in("reader").get("/parts/rud-7%20a/").text
    assert 'href="/parts/RUD/7%20A/"' in text
    assert "/parts/new/" not in text


def test_an_inserts_page_and_a_molds_name_the_parts_they_serve(sign_in, deck, morning):
    host, rim = mold("HOST", morning), mold("RIM", morning, kind=Kind.INSERT)
    do("install", rim, at=ago(hours=3), mold=host)
    do("log_pull", host, at=ago(hours=2), part="SK520-DECK")
    for code in ("HOST", "RIM"):
        text = sign_in("reader").get(f"/tools/{code}/").text
        assert f'<a class="nb" href="{DECK}">SK520-DECK</a></dt><dd>1 pull' in text


def test_only_a_lead_writes_parts_down(sign_in, deck):
    change = f"/parts/SK520-DECK/revisions/{deck.pk}/"
    for role in ("reader", "hand", "station"):
        client = sign_in(role)
        for address in (NEW, REVISE, change):
            assert client.get(address).status_code == client.post(address, {"name": "x"}).status_code == 403
    assert PartRevision.objects.get().name == "Sea kayak 520, deck"


def test_a_new_part_and_twice_is_harmless(sign_in):
    client = sign_in("lead")
    typed = {**stands(client, NEW), "number": " SK520  HULL ", "name": "Hull", "layup_minutes": "95,5", "cure_c": "-5"}
    assert client.post(NEW, typed).url == "/parts/SK520%20HULL/"
    one = PartRevision.objects.get()
    assert (one.part.number, str(one.layup_minutes), str(one.cure_c)) == ("SK520 HULL", "95.5", "-5")
    reply = client.post(NEW, {**typed, "number": "sk520 hull"})
    assert reply.context["form"].errors["number"] == ["There is a part sk520 hull already."]
    assert PartRevision.objects.count() == Part.objects.count() == 1


def test_a_further_revision_begins_as_the_newest_stands(sign_in, deck):
    client = sign_in("lead", units="us")
    typed = stands(client, REVISE)
    assert (typed["cure_c"], typed["name"]) == ("140", "Sea kayak 520, deck")
    assert "Nothing is changed yet." in client.post(REVISE, typed).text
    assert client.post(REVISE, {**typed, "cure_c": "150"}).context["form"].errors["__all__"]
    assert client.post(REVISE, {**typed, "revision": "B", "cure_c": "150"}).url == DECK
    new = PartRevision.objects.newest_first().first()
    assert (new.revision, str(new.cure_c), new.as_typed) == ("B", "65.555556", {"cure_c": ["150", "°F"]})
    assert '<span class="nb">150 °F</span>' in client.get(DECK).text


def test_a_revision_is_changed_and_twice_is_harmless(sign_in, deck):
    client, change = sign_in("lead"), f"/parts/SK520-DECK/revisions/{deck.pk}/"
    typed = {**stands(client, change), "layup_minutes": "160"}
    for _twice in range(2):
        assert client.post(change, typed).url == DECK
    deck.refresh_from_db()
    assert deck.layup_minutes == 160
    for address in ("/parts/SK520-DECK/revisions/999/", "/parts/NONE/revise/", "/parts/%00/revise/"):
        assert client.get(address).status_code == 404


@pytest.mark.parametrize(
    ("column", "value"),
    [("name", ""), ("name", "\x00"), ("layup_minutes", "-1"), ("layup_minutes", "1,000"), ("in_mold_hours", "nan"),
     ("cure_c", "hot"), ("cure_c", "9999999999"), ("revision", "x" * 41), ("note", "x" * 4001)],
)  # fmt: skip
def test_bad_input_is_said_at_its_field_and_changes_nothing(sign_in, deck, column, value):
    client, change = sign_in("lead"), f"/parts/SK520-DECK/revisions/{deck.pk}/"
    reply = client.post(change, {**stands(client, change), "resin": "epoxy", column: value})
    assert reply.context["form"].errors[column]
    assert "epoxy" in reply.text
    deck.refresh_from_db()
    assert deck.resin == ""


@pytest.mark.sqlite
def test_what_makes_a_part_is_one_look_into_an_index(db):
    plan = uses(["P-1"]).values("tool").explain()
    assert "SEARCH tooling_entry USING" in plan
    assert "entry_part_tool" in plan


@pytest.mark.parametrize("count", [1, 30])
def test_as_many_queries_for_thirty_rows_as_for_one(sign_in, morning, count, django_assert_num_queries):
    for number in range(count):
        part = Part.objects.create(number=f"P-{number}")
        PartRevision.objects.create(part=part, name="Deck", revision="A")
        do("log_pull", mold(f"M-{number}", morning), at=ago(hours=1), part=part.number)
        do("log_pull", mold(f"N-{number}", morning), at=ago(hours=1), part="P-0")
    client = sign_in("reader")
    with django_assert_num_queries(10):
        client.get(PARTS)
    with django_assert_num_queries(9):
        client.get("/parts/P-0/")


@pytest.mark.parametrize(
    "number",
    ["new", "X/revise", "X/revisions/3", "..", ".", "a/../b", "A//B", "/x", "x/", "~new", "a~b", "NEW", "X/7 a"],
)
def test_every_number_has_a_page_of_its_own(sign_in, number):
    client = sign_in("lead")
    address = client.post(NEW, {**stands(client, NEW), "number": number, "name": "Deck"}).url
    assert not {"", ".", ".."} & set(address.removeprefix("/parts/").removesuffix("/").split("/"))
    assert f"<h1>{number}</h1>" in client.get(address).text
    assert f'href="{address}"' in client.get(PARTS).text
    revised = client.get(f"{address}revise/")
    assert revised.context["part"].number == number


def test_a_change_of_a_revision_is_kept_with_its_name(sign_in, deck, lead):
    client, change = sign_in("lead"), f"/parts/SK520-DECK/revisions/{deck.pk}/"
    client.post(change, {**stands(client, change), "layup_minutes": "160"})
    client.post(REVISE, {**stands(client, REVISE), "revision": "B"})
    kept = [(one.field, one.before, one.after, one.who) for one in deck.part.changes.order_by("id")]
    assert kept == [("layup_minutes", "150", "160", lead), ("", "", "B", lead)]
    text = " ".join(sign_in("reader").get(DECK).text.split())
    assert "<b>Lay-up, A</b>: <del>150 min</del> → <ins>160 min</ins>" in text
    assert "<b>Revision B written down</b>" in text


def test_the_list_says_the_mold_of_the_set_and_from_when_it_can_be_laid_up(sign_in, morning):
    Shop.objects.update(week="Mon-Sun 00:00-24:00", hands=1)
    for number, pulls, lent in (("P-NOW", 0, False), ("P-COAT", 4, False), ("P-LENT", 0, True)):
        one = mold(f"M-{number}", morning, pulls=pulls)
        revision = PartRevision.objects.create(part=Part.objects.create(number=number), name="Deck", revision="A")
        SetLine.objects.create(revision=revision, role="mold", tool=one)
        if lent:
            do("lend", one, at=ago(minutes=1), person="Yard")
    text = " ".join(sign_in("reader").get(PARTS).text.split())
    wanted = {"P-NOW": "Can be laid up now.", "P-COAT": "Can be laid up from ", "P-LENT": "Not now: lent."}
    for number, says in wanted.items():
        row = text.partition(f'">{number}</a>')[2].partition("</li>")[0]
        assert f"<b>{says}" in row
        assert f'href="/tools/M-{number}/"' in row
