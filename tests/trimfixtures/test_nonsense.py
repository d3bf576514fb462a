"""Nonsense in the forms and addresses of trim masks and cutters: answered, nothing typed lost, nothing half written."""

from html import unescape
from itertools import cycle

import pytest
from django.forms import CharField, HiddenInput
from django.urls import reverse

from tests.tooling.test_nonsense import LONG, NONSENSE
from tests.trimfixtures.views.trim_masks import trim_mask
from tooling.models import ToolChange
from trimfixtures.models import Cutter, CutterChange, Feature, Mask

pytestmark = pytest.mark.django_db
ODDS = [*NONSENSE, "1e999", "-999999999999", "0001-01-01", "NaN", "1/0 in", "0 0; 1 1; 0 1; 1 0", "a @ 1; A @ 2"]
MANY_POINTS = "; ".join(f"{x} {x * x % 977}" for x in range(5000))
TABLES = (Cutter, CutterChange, Feature, Mask, ToolChange)
# Beside what stands on the page: what makes it one that could be written down.
FORMS = {
    "new_cutter": ({}, {"code": "R7", "kind": "cutter"}),
    "cutter": ({"cutter_code": "C-8"}, {}),
    "cuts": ({"code": "COAM-TRIM"}, {"do": "describe"}),
    "add_cut": ({"code": "COAM-TRIM"}, {"kind": "edge", "method": "bearing", "cutter_mm": "6"}),
}
# A sheet of paper takes long to draw: all of its words are odd at once.
ASKED = {
    "/trim/": ("page", "part"), "/cutters/": ("before", "page"), "/cutters/C-8/": ("before",),
    "/tools/COAM-TRIM/checks/": ("check", "page"), "/tools/COAM-TRIM/cuts/": ("out",),
    "/tools/COAM-TRIM/trimmed/": ("part", "serial"), "/tools/COAM-TRIM/check/": ("measured",),
}  # fmt: skip


@pytest.fixture(autouse=True)
def described(client, morning, lead):
    client.force_login(lead, backend="shared.access.RoleBackend")
    return trim_mask(lead)


def stored():
    return [list(table.objects.order_by("pk").values_list()) for table in TABLES]


def standing(form):
    """What is sent when nothing is typed."""
    return {one.name: value for one in form if (value := one.value()) not in (None, False)}


def comes_back(kind, odd):
    return isinstance(kind, CharField) and not isinstance(kind.widget, HiddenInput) and "\x00" not in odd


@pytest.mark.parametrize("name", FORMS)
def test_nonsense_in_one_field_is_answered_and_comes_back(name, client):
    known, more = FORMS[name]
    address, odds = reverse(name, kwargs=known), cycle(ODDS)
    form = client.get(address).context["form"]
    good, before = standing(form) | more, stored()
    for field, kind in form.fields.items():
        for odd in (next(odds), next(odds), next(odds)):
            reply = client.post(address, {**good, field: odd})
            assert reply.status_code in (200, 302), (field, odd[:20])
            if reply.status_code == 302:  # it can be meant
                before = stored()
            elif comes_back(kind, odd):
                assert odd.strip() in unescape(reply.text), (field, odd[:20])
            assert stored() == before, (field, odd[:20])
    for odd in ({}, dict.fromkeys(good, "no"), {one: ["one", "two"] for one in good}):
        assert client.post(address, odd).status_code in (200, 302)


def test_an_outline_of_too_many_points_is_refused_and_comes_back(client):
    page, before = "/tools/COAM-TRIM/cuts/", stored()
    sent = {**standing(client.get(page).context["form"]), "do": "describe", "outline": MANY_POINTS}
    reply = client.post(page, sent)
    assert "5000 points" in reply.context["form"].errors["outline"][0]
    assert MANY_POINTS in reply.text
    assert stored() == before


def test_nonsense_in_an_address_is_no_fault(client):
    for page, names in ASKED.items():
        for odd in ("\x00", LONG[:2000], "9" * 30, "1e999"):
            assert client.get(page, dict.fromkeys(names, odd)).status_code == 200, (page, odd[:20])
    odd = {"revision": "\x00", "serial": "💥" * 99, "paper": "1e999"}
    assert client.get("/tools/COAM-TRIM/trim.pdf", {**odd, "part": LONG[:2000]}).status_code == 404
    assert client.get("/tools/COAM-TRIM/trim.pdf", odd).status_code == 200


@pytest.mark.sqlite  # no database is asked but for a tool of that code
@pytest.mark.parametrize("page", ["checks", "trimmed", "check", "trim.pdf", "cuts", "cuts/add", "cuts/1"])
def test_another_tool_and_none_have_no_such_page(page, client, described):
    described.__class__.objects.filter(pk=described.pk).update(kind="insert")
    for code in ("COAM-TRIM", "NOBODY", "a%00b", "💥", "9" * 90):
        for ask in (client.get, client.post):
            address = f"/tools/{code}/{page}{'' if '.' in page else '/'}"
            assert ask(address).status_code in (302, 404, 405), address
