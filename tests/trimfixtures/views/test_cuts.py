"""Where a lead describes a trim mask and its cuts: what is written, what is refused, the order, out and back."""

import re
from decimal import Decimal
from uuid import uuid4

import pytest

from tests.tooling.views.works import mold
from trimfixtures.models import Feature, Mask
from trimfixtures.services.cutters import add_cutter
from trimfixtures.services.features import add_feature
from trimfixtures.services.masks import describe

pytestmark = pytest.mark.django_db
PAGE, ADD = "/tools/RIM/cuts/", "/tools/RIM/cuts/add/"
BOX = "0 0; 600 0; 600 300; 0 300"


@pytest.fixture
def rim(morning):
    return mold("RIM", None, kind="trim_mask", pulls=None)


@pytest.fixture
def library(lead, morning):
    def one(code, kind, mm):
        return add_cutter(by=lead, at=AT, code=code, kind=kind, nominal_mm=Decimal(mm))

    return {"cutter": one("R6", "cutter", 6), "bushing": one("GB16", "bushing", 16)}


AT = "2026-05-01T08:00Z"


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).split())


def stands(form):
    """What stands in a form on the screen, as a browser sends it."""
    return {name: "" if form[name].value() is None else form[name].value() for name in form.fields}


def cut(tool, lead, **columns):
    mask = Mask.objects.filter(tool=tool).first() or describe(tool, by=lead, at=AT)
    return add_feature(mask, by=lead, at=AT, **{"kind": "mark", "method": "scribe", **columns})


def add(client, sent):
    return client.post(ADD, {"token": str(uuid4()), **sent})


def order():
    return [str(one) for one in Feature.objects.in_order()]


def test_only_a_lead_and_only_of_a_trim_mask(sign_in, rim, morning):
    mold("DECK", morning)
    assert sign_in("hand").get(PAGE).status_code == sign_in("hand").post(ADD, {"kind": "edge"}).status_code == 403
    client = sign_in("lead")
    assert client.get("/tools/DECK/cuts/").status_code == client.get("/tools/NONE/cuts/").status_code == 404
    assert client.get("/tools/rim/cuts/").url == PAGE
    assert f'href="{PAGE}"' in client.get("/tools/RIM/").text


def test_it_is_described_and_what_cannot_be_stays_typed(sign_in, rim, lead):
    client = sign_in("lead")
    assert "Nobody has said yet." in words(client.get(PAGE))
    sent = {
        "do": "describe",
        "stage": "net",
        "datum": "pin and slot",
        "check_every": "12",
        "outline": "0 0; 9 9; 9 0; 0 9",
    }
    reply = client.post(PAGE, sent)
    assert "crosses itself" in words(reply)
    assert "0 0; 9 9; 9 0; 0 9" in reply.text
    assert not Mask.objects.exists()
    described = {**sent, "do": "describe.cut", "outline": BOX, "points": "bow @ 0; stern @ 900"}
    assert client.post(PAGE, described).url == ADD
    mask = Mask.objects.get()
    assert (mask.stage, mask.datum, mask.check_every, mask.outline) == ("net", "pin and slot", 12, BOX)
    reply = client.get(PAGE)
    assert "Net cut · set by pin and slot · checked every 12 parts" in words(reply)
    client.post(PAGE, {**stands(reply.context["form"]), "do": "describe"})
    assert set(rim.changes.values_list("who", flat=True)) == {lead.pk}
    assert rim.changes.filter(field="trim datum").count() == 1


def test_the_first_cut_of_one_that_nobody_described(sign_in, rim, library):
    client = sign_in("lead")
    nothing = add(client, {"note": "as before"})
    assert words(nothing).count("Choose one.") == 2
    assert "as before" in nothing.text
    keys = {name: one.pk for name, one in library.items()}
    sent = {"kind": "edge", "method": "guide_bushing", "tolerance_mm": "0,3", **keys, "then": "another"}
    assert add(client, sent).url == ADD
    assert add(client, {"kind": "mark", "method": "scribe", "name": "Waterline"}).url.startswith(PAGE)
    one = Feature.objects.get(kind="edge")
    assert (one.cutter, one.bushing, one.kept, one.tolerance_mm) == (*library.values(), "mask_side", Decimal("0.3"))
    said = words(client.get(PAGE))
    assert "5 mm from the guiding edge" in said


@pytest.mark.parametrize(
    ("typed", "column", "says"),
    [
        ({"cutter_mm": "16", "cutter": ""}, "cutter_mm", "is not smaller than the guide bushing"),
        ({"tolerance_mm": "-0.2"}, "tolerance_mm", "a tolerance is not below zero"),
        ({"corner_mm": "2"}, "corner_mm", "sharper than what is guided"),
        ({"x_mm": "900", "y_mm": "10"}, "x_mm", "is off the outline"),
        ({"length_mm": "8 in"}, "width_mm", "Say all of one cut in one unit"),
        ({"width_mm": ""}, "width_mm", "Say how wide it is"),
        ({"width_mm": "wide"}, "width_mm", "is no number"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_stays_typed(sign_in, rim, lead, library, typed, column, says):
    describe(rim, by=lead, at=AT, outline=BOX)
    sizes = {"length_mm": "220", "width_mm": "100"}
    keys = {name: one.pk for name, one in library.items()}
    reply = add(sign_in("lead"), {"kind": "cut_out", "method": "guide_bushing", **keys, **sizes, **typed})
    assert says in str(reply.context["form"].errors[column])
    for text in filter(None, typed.values()):
        assert f'value="{text}"' in reply.text
    assert not Feature.objects.exists()


def test_a_cut_that_reaches_past_the_outline_is_kept_and_said(sign_in, rim, lead, library):
    describe(rim, by=lead, at=AT, outline=BOX)
    keys = {name: one.pk for name, one in library.items()}
    sizes = {"length_mm": "220", "width_mm": "100", "x_mm": "500", "y_mm": "150"}
    client = sign_in("lead")
    add(client, {"kind": "cut_out", "method": "guide_bushing", **keys, **sizes})
    assert words(client.get(PAGE)).count("it reaches 10 mm past the outline") == 2  # just said, and beside the cut
    assert words(client.get(PAGE)).count("it reaches 10 mm past the outline") == 1


def test_what_was_typed_while_nobody_was_signed_in_any_more_stands_there_again(client, rim, lead):
    client.post(ADD, {"kind": "mark", "method": "scribe", "note": "beside the rail", "length_mm": "90"})
    client.force_login(lead, backend="shared.access.RoleBackend")
    assert "beside the rail" in client.get(ADD).text
    assert not Feature.objects.exists()


def test_the_same_form_again_writes_no_second_cut(sign_in, rim):
    client, sent = sign_in("lead"), {"kind": "mark", "method": "scribe", "name": "Waterline", "token": str(uuid4())}
    assert client.post(ADD, sent).url == client.post(ADD, sent).url
    assert "was sent before, with something else" in words(client.post(ADD, {**sent, "name": "Sheer"}))
    lost = client.post(ADD, {**sent, "token": "", "note": "beside the rail"})
    assert "had lost what keeps it from being sent twice" in words(lost)
    assert "beside the rail" in lost.text
    assert (order(), rim.changes.filter(field="trim cut").count()) == (["Waterline"], 1)


def test_up_and_down(sign_in, rim, lead):
    a, _b, c = (cut(rim, lead, name=name) for name in "ABC")
    client = sign_in("lead")
    assert client.post(PAGE, {"do": f"move.{c.pk}.1"}).url == f"{PAGE}#cut-{c.pk}"
    assert order() == ["C", "A", "B"]
    client.post(PAGE, {"do": f"move.{a.pk}.3"})
    assert order() == ["C", "B", "A"]
    for nonsense in (f"move.{a.pk}.x", f"move.{a.pk}", "move.99.1", "out.x", "melt", ""):
        assert client.post(PAGE, {"do": nonsense}).status_code == 302
    assert order() == ["C", "B", "A"]


def test_taken_out_and_put_back_as_it_was(sign_in, rim, lead, library):
    client = sign_in("lead", units="us")
    keys = {name: one.pk for name, one in library.items()}
    add(client, {"kind": "slot", "method": "guide_bushing", "length_mm": "4 1/2", "width_mm": "1", **keys})
    cut(rim, lead, name="Last")
    one, before = Feature.objects.get(kind="slot"), order()
    assert one.as_typed["length_mm"] == ["4 1/2", "in"]
    Feature.objects.filter(pk=one.pk).update(note="\N{CJK UNIFIED IDEOGRAPH-6C34}" * 4000)
    assert len(client.post(PAGE, {"do": f"out.{one.pk}"}).url) < 100  # a server takes no long address
    reply = client.get(PAGE, {"out": one.pk})
    assert "Taken out:" in words(reply)
    assert order() == ["Last"]
    back = {"do": "put_back", "out": reply.context["out"]}
    assert "Put back:" in words(client.post(PAGE, back, follow=True))
    again = Feature.objects.get(kind="slot")
    assert (order(), again.as_typed, again.cutter, len(again.note)) == (before, one.as_typed, one.cutter, 4000)
    assert "There is nothing to put back." in words(client.post(PAGE, {**back, "out": "x"}, follow=True))


def test_a_cut_is_changed_and_what_another_changed_meanwhile_stays(sign_in, rim, lead):
    one = cut(rim, lead, name="Waterline", note="pencil")
    client, at = sign_in("lead"), f"{PAGE}{one.pk}/"
    form = stands(client.get(at).context["form"])
    Feature.objects.update(note="needle")
    client.post(at, {**form, "name": "Sheer"})
    one.refresh_from_db()
    assert (one.name, one.note) == ("Sheer", "needle")
    assert client.get(f"{PAGE}999/").status_code == 404


def test_the_page_asks_as_much_for_many_cuts_as_for_one(sign_in, rim, lead, library, django_assert_num_queries):
    client = sign_in("lead")
    for name in ("A", "B", "C", "D"):
        cut(rim, lead, name=name, cutter=library["cutter"])
        with django_assert_num_queries(QUERIES):
            client.get(PAGE)


QUERIES = 8
