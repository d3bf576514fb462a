"""A plug's record: read by all, kept by a lead; passes in and out, the order, the next one alike, and on paper."""

import re
from decimal import Decimal

import pytest

from tests.shared.paper.needs import pango
from tests.tooling.views.test_set_sheet import in_order
from tests.tooling.views.test_tool_sheet import pages
from tests.tooling.views.works import ago, do, mold
from tooling.models import MillingPass, PlugRecord
from tooling.services import plugs

pytestmark = pytest.mark.django_db
PAGE, ADD = "/tools/PLUG/plug/", "/tools/PLUG/plug/passes/add/"
AT = "2026-05-01T08:00Z"
FINE = {
    "kind": "finishing", "ball_diameter_mm": "20", "step_over_mm": "0.8", "feed_mm_min": "6000", "width_mm": "620",
    "length_mm": "5200", "both_ways": "on", "holder_diameter_mm": "50", "stickout_mm": "90", "wall_height_mm": "160",
    "wall_angle_deg": "84",
}  # fmt: skip


@pytest.fixture
def plug(morning):
    return mold("PLUG", None, kind="plug", pulls=None)


def words(reply):
    return " ".join(re.sub(r"<[^>]+>", " ", reply.text).replace("\N{NO-BREAK SPACE}", " ").split())


def stands(form):
    """What stands in a form on the screen, as a browser sends it."""
    return {name: "" if form[name].value() is None else form[name].value() for name in form.fields}


def a_pass(plug, lead, name=""):
    sizes = {name: Decimal(text) for name, text in FINE.items() if name.endswith(("_mm", "_min", "_deg"))}
    return plugs.add_pass(plug, by=lead, at=AT, kind="finishing", name=name, **sizes)


def order(plug):
    return [one.name for one in plug.milling_passes.all()]


def test_all_read_it_and_only_a_lead_writes(sign_in, plug, lead):
    a_pass(plug, lead)
    mold("DECK", None, pulls=None)
    client = sign_in("reader")
    shown = client.get(PAGE)
    assert "Take out" not in shown.text
    assert client.post(PAGE, {"do": "describe", "base": "frame"}).status_code == client.get(ADD).status_code == 403
    assert client.get("/tools/plug/plug/").url == PAGE
    assert client.get("/tools/DECK/plug/").url == "/tools/DECK/"
    assert client.get("/tools/NONE/plug/").status_code == 404
    assert f'href="{PAGE}"' in client.get("/tools/PLUG/").text
    assert not PlugRecord.objects.exists()


def test_the_page_says_what_follows_from_the_sizes(sign_in, plug, lead):
    """Scallop by hand 0.8² / (4 · 20); 776 times 5.2 m at 6 m/min: 672.5 minutes; 10 - 10 sin 6° ..., see outside."""
    a_pass(plug, lead)
    said = words(sign_in("reader").get(PAGE))
    assert "Scallop left under 0.01 mm high where it is flat, more on a slope; to be sanded off" in said
    assert "11 h 13 min, 776 lines" in said
    assert "The holder would be 6.5 mm in the steepest wall. Put the cutter at least 161 mm out" in said
    assert "holder 6.5 mm in the wall" in said
    assert "Scallop left under 0.0005 in high" in words(sign_in("hand", units="us").get(PAGE))


def test_it_is_described_and_what_cannot_be_stays_typed(sign_in, plug):
    client = sign_in("lead")
    reply = client.post(PAGE, {"do": "describe", "base": "steel frame", "tilt_deg": "95"})
    assert "a tilt lies between -90° and 90°" in words(reply)
    assert 'value="steel frame"' in reply.text
    assert not PlugRecord.objects.exists()
    client.post(PAGE, {"do": "describe", "base": "steel frame", "tilt_deg": "-12.5", "tilt_about": "keel"})
    reply = client.get(PAGE)
    assert "-12.5°, keel" in words(reply)
    client.post(PAGE, {**stands(reply.context["form"]), "do": "describe"})
    assert plug.changes.filter(field="plug tilt_deg").count() == 1
    assert "Base" in words(client.get("/tools/PLUG/"))


def test_a_pass_comes_in_and_the_same_form_again_adds_none(sign_in, plug):
    client = sign_in("lead")
    assert "spindle stopped before hands go near" in words(client.get(ADD))
    assert "Choose one." in words(client.post(ADD, {"note": "as before"}))
    wrong = client.post(ADD, {**FINE, "step_over_mm": "21", "note": "beside the keel"})
    assert "only up to a step-over of 20 mm" in str(wrong.context["form"].errors["step_over_mm"])
    assert "beside the keel" in wrong.text
    sent = {**FINE, "place": client.get(ADD).context["form"]["place"].value()}
    for _time in range(2):
        assert client.post(ADD, sent).url.startswith(PAGE)
    assert MillingPass.objects.count() == 1
    assert client.post(ADD, {**FINE, "place": "2", "then": "another"}).url == ADD
    assert MillingPass.objects.count() == 2


def test_a_pass_is_changed_in_the_units_of_the_reader(sign_in, plug, lead):
    one = a_pass(plug, lead)
    client, at = sign_in("lead", units="us"), f"{PAGE}passes/{one.pk}/"
    form = stands(client.get(at).context["form"])
    MillingPass.objects.update(name="hull")  # by somebody else, meanwhile
    client.post(at, {**form, "feed_mm_min": "240", "step_over_mm": "0.030", "minutes_taken": "700"})
    one.refresh_from_db()
    assert (one.name, one.feed_mm_min, one.step_over_mm) == ("hull", Decimal(6096), Decimal("0.762"))
    assert one.as_typed == {"feed_mm_min": ["240", "in/min"], "step_over_mm": ["0.030", "in"]}
    assert "It took 11 h 40 min" in words(client.get(PAGE))
    assert client.get(f"{PAGE}passes/999/").status_code == 404


def test_up_and_down_out_and_back(sign_in, plug, lead):
    a, _b, c = (a_pass(plug, lead, name) for name in "ABC")
    client = sign_in("lead")
    assert client.post(PAGE, {"do": f"move.{c.pk}.1"}).url == f"{PAGE}#pass-{c.pk}"
    assert order(plug) == ["C", "A", "B"]
    for nonsense in (f"move.{a.pk}.x", f"move.{a.pk}", "move.99.1", "out.x", "melt", "", "describe.1"):
        assert client.post(PAGE, {"do": nonsense}).status_code == 302
    out = client.post(PAGE, {"do": f"out.{a.pk}"}).url
    assert order(plug) == ["C", "B"]
    assert "The pass is taken out." in words(client.get(out))
    for said in ("Put back.", "There is nothing to put back."):
        assert said in words(client.post(PAGE, {"do": "put_back", "out": a.pk}, follow=True))
    assert order(plug) == ["C", "A", "B"]


def test_somebody_else_was_quicker(sign_in, plug, lead, monkeypatch):
    """The pass is there while the page asks for it, and gone once it is to be written."""
    one, client = a_pass(plug, lead), sign_in("lead")
    form = stands(client.get(f"{PAGE}passes/{one.pk}/").context["form"])
    plugs.remove_pass(one, by=lead, at=AT)
    for view in ("plugs", "passes"):
        monkeypatch.setattr(f"tooling.views.{view}.pass_called", lambda *_asked: one)
    for sent in ({"do": f"move.{one.pk}.1"}, {"do": f"out.{one.pk}"}):
        assert "somebody took it out" in words(client.post(PAGE, sent, follow=True))
    changed = {**form, "note": "again"}
    assert "somebody took it out" in words(client.post(f"{PAGE}passes/{one.pk}/", changed, follow=True))


def test_the_next_one_is_set_up_alike(sign_in, plug, lead):
    a_pass(plug, lead, "hull")
    new, client = mold("NEXT", None, kind="plug", pulls=None), sign_in("lead")
    assert "Choose one." in words(client.post(PAGE, {"do": "alike"}))
    reply = client.post(PAGE, {"do": "alike", "plug": new.pk}, follow=True)
    assert "measure them before it is cut" in words(reply)
    assert "Set up like PLUG" in words(reply)
    assert "whether the holder clears (height of the steepest wall, angle of the steepest wall)" in words(reply)
    assert order(new) == ["hull"]
    assert "That one is not free any more." in words(client.post(PAGE, {"do": "alike", "plug": new.pk}))


def test_as_many_queries_for_many_passes(sign_in, plug, lead, django_assert_num_queries):
    client = sign_in("reader")
    a_pass(plug, lead)
    client.get(PAGE)
    with django_assert_num_queries(9):
        client.get(PAGE)
    for name in "ABCDEF":
        a_pass(plug, lead, name)
    with django_assert_num_queries(9):
        client.get(PAGE)


@pango
def test_on_paper_with_what_was_done_by_hand(sign_in, plug, lead):
    plugs.describe(plug, by=lead, at=AT, base="steel frame", zero="dowel at the bow")
    a_pass(plug, lead)
    primed = {"work": "primer", "count": 2, "material": "two-part primer"}
    do("make_step", plug, at=ago(minutes=3), step="Primed", **primed)
    do("make_step", plug, at=ago(minutes=2), step="Sanded", work="sanding", grit="320")
    reply = sign_in("reader").get("/tools/PLUG/plug.pdf")
    found = pages(reply.getvalue())
    text = " ".join(found).replace("\N{NO-BREAK SPACE}", " ")
    assert in_order(
        text, "Plug sheet", "PLUG", "WARNING", "How it sat", "steel frame", "dowel at the bow",
        "Scale 1 : 3.", "Finishing", "6.5 mm in the steepest wall", "ball Ø 20 mm", "By hand",
        "Primer (Primed)", "2 coats, two-part primer", "Sanding (Sanded)", "grit 320",
        "heat themselves in a thick layer", "Check value",
    )  # fmt: skip
    assert "holder 6.5 mm in the wall" in text  # of the drawing, which is read last
    assert [f"{number} of {len(found)}" in page for number, page in enumerate(found, 1)] == [True] * len(found)
