"""Nonsense everywhere but in deeds: never a broken page, nothing typed lost, nothing half written.

Each field is sent some of it in turn; `make faults` sends all of it to all of them.
"""

import os
from html import unescape

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.forms import BooleanField, CharField, ChoiceField
from django.urls import get_resolver, reverse

from tests.guards.test_roles import patterns
from tests.tooling.pictures import add
from tests.tooling.views.deeds.conftest import shop
from tooling import models
from tooling.services.recheck import differences
from tooling.services.tools import rules

__all__ = ["shop"]
pytestmark = pytest.mark.django_db
ON_SQLITE = connection.vendor == "sqlite"
LONG = "x" * 10_000
# What a database minds, and what only forms read: the latter once, on SQLite.
MINDED = [LONG, "a\x00b", "9" * 30]
NONSENSE = [LONG, "a\x00b", "💥\u202eשלום <b>'\"& %(n)s {0} {{ 7 }}", "1e400", "-1", "9" * 30, "9999-12-31"]
ALL_OF_IT = "EXAMPLES" in os.environ
FORMS = {
    "new_tool_all": {}, "build_tool": {"kind": "mold"}, "change_tool": {"code": "DECK-2A"}, "new_places": {},
    "change_place": {"place_code": "RACK-B"},
    "seen_at": {"place_code": "RACK-B"}, "move": {"code": "DECK-2A"}, "new_part": {},
    "revise_part": {"part": "SK520-DECK"}, "change_revision": {"part": "SK520-DECK"}, "settings": {},
    "change_recipe": {"code": "WAX"}, "pictures": {"code": "DECK-2A"}, "many_pictures": {},
    "change_picture": {"code": "DECK-2A"}, "sign_in": {}, "put_home": {"code": "DECK-2A"},
    "take_in_recipe": {"code": "WAX-PLUG"}, "new_person": {}, "shop_settings": {}, "walk": {}, "first_place": {},
    "first_recipe": {}, "first_tool": {}, "starting_state": {"code": "DECK-2A"}, "new_recipe": {}, "imports": {},
}  # fmt: skip
# Every letter of what was typed stands in the page that comes back; a password never does.
SECRET = {"password"}
TABLES = (
    models.Tool, models.ToolAlias, models.ToolChange, models.Place, models.Part, models.PartRevision, models.Picture,
    models.RecipeVersion, models.ReleaseSystem, models.Entry, models.Person, models.SearchText,
)  # fmt: skip


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def address(client, shop, lead, request):
    """The address of a form, with all that it wants, for a lead who is signed in."""
    models.Place.objects.create(code="RACK-B", name="Rack B")
    picture = add(shop.mold)

    def of(name):
        known = dict(FORMS[name])
        if name == "change_picture":
            known["number"] = picture.pk
        if name == "change_revision":
            known["revision"] = models.PartRevision.objects.get().pk
        return reverse(name, kwargs=known)

    if "sign_in" not in request.node.name:
        client.force_login(lead, backend="shared.access.RoleBackend")
    return of


def stored():
    return [list(table.objects.order_by("pk").values_list()) for table in TABLES]


def fields_of(client, at):
    """The fields of the form on its page, and what stands in each; a button has only what it does."""
    context = client.get(at).context or {}
    form = context.get("form") or context.get("caption")
    if form is None:
        return {"do": None, "token": None, "place": None}, {}
    good = {name: form[name].value() for name in form.fields if not form[name].field.disabled}
    return {**form.fields, "do": None}, {name: value for name, value in good.items() if value not in (None, False)}


def some(odds, turn, fields, kind=None):
    """Two in turn for each field; of a long form one, since its page takes long to draw.

    A field that takes only what it offers gets one as well: what is no choice is all the same, and no database sees it.
    """
    offers, long = isinstance(kind, ChoiceField | BooleanField), len(fields) >= 12
    if ALL_OF_IT:
        return odds
    if offers and not ON_SQLITE:
        return []
    return [odds[(turn + step) % len(odds)] for step in (0, 2)][: 1 if offers or long else 2]


@pytest.mark.parametrize("name", FORMS)
def test_nonsense_in_one_field_is_answered_and_comes_back(name, client, address):
    at = address(name)
    fields, good = fields_of(client, at)
    before = stored()
    for turn, (field, kind) in enumerate(fields.items()):
        for odd in some(NONSENSE if ON_SQLITE else MINDED, turn, fields, kind):
            reply = client.post(at, {**good, "do": "caption", field: odd})
            assert reply.status_code in (200, 302, 404), (field, odd[:20])
            if reply.status_code != 200 or (
                "form" not in reply.context and "caption" not in reply.context
            ):  # it can be meant
                before = stored()
            elif (
                isinstance(kind, CharField) and field not in SECRET and "\x00" not in odd and not kind.widget.is_hidden
            ):
                assert odd.strip() in unescape(reply.text), (field, odd[:20])
        assert stored() == before, field
    assert not list(differences(rules()))


@pytest.mark.sqlite  # forms answer this, before any database is asked
@pytest.mark.parametrize("name", FORMS)
def test_fields_that_lack_or_come_twice_or_are_files_are_answered(name, client, address):
    at = address(name)
    fields, good = fields_of(client, at)
    file = SimpleUploadedFile("x.txt", b"\x00\xff no picture")
    for odd in ({}, {"nobody": "asked"}, dict.fromkeys(fields, "no"), {field: ["one", "two"] for field in fields}):
        assert client.post(at, {**odd, "do": "nothing"}).status_code in (200, 302, 404)
    for turn, (field, kind) in enumerate(fields.items()):
        without = {other: value for other, value in good.items() if other != field}
        for odd in some([{}, {field: ["one", "two"]}, {field: file}], turn, fields, kind):
            file.seek(0)
            assert client.post(at, {**without, **odd}).status_code in (200, 302, 404), field
    assert client.post(at, "{]", content_type="application/json").status_code in (200, 302, 404)
    assert not list(differences(rules()))


@pytest.mark.parametrize("name", FORMS)
def test_the_same_form_twice_is_harmless(name, client, address):
    at = address(name)
    _fields, good = fields_of(client, at)
    client.post(at, {**good, "do": "main"})
    once = stored()
    assert client.post(at, {**good, "do": "main"}).status_code in (200, 302, 404)
    assert stored() == once


# Of these codes and words a database minds the first three. Pages alone answer the others, once, on SQLite.
ASKED_HERE = slice(None if ON_SQLITE else 3)
ODD_KEYS = ["a%00b", "x" * 900, "9" * 30, "%F0%9F%92%A5", "NO-SUCH", "..%2f..", "%ff%fe", "²"]
# Each address is asked for a third of them here, for all of them by `make faults`.
TURNS = 1 if ALL_OF_IT or not ON_SQLITE else 3
KINDS = {
    "IntConverter": "int", "StringConverter": "str", "PathConverter": "path", "PartNumber": "part_number",
    "Digest": "digest",
}  # fmt: skip


@pytest.mark.parametrize("odd", ODD_KEYS[ASKED_HERE])
def test_nothing_of_that_name_is_said_at_every_address(odd, client, address):
    address("settings")
    first = ODD_KEYS.index(odd) % TURNS
    for entry in list(patterns(get_resolver()))[first::TURNS]:
        path, keys = str(entry.pattern), entry.pattern.converters
        if not keys:
            continue
        for key, converter in keys.items():
            path = path.replace(f"<{KINDS[type(converter).__name__]}:{key}>", odd)
        for method in (client.get, client.post):
            assert method(f"/{path}").status_code in (302, 404, 405), path


ODD_WORDS = ["\x00", LONG, "9" * 30, "💥", "", "-1", "²", "1e400", "2026-02-30", "'\"<b>%"]
FILTERS = ("q", "kind", "state", "place", "part", "recipe", "owner", "made_from", "held", "home", "retired", "sort")
ASKED = {
    "/tools/": (*FILTERS, "view", "page", "go", "after", "before"),
    "/tools.csv": FILTERS,
    "/tools/DECK-2A/": ("older", "entries", "year"),
    "/tools/DECK-2A/move/": ("to",),
    "/racks/RACK-B/": ("page", "scanned"),
    "/parts/": ("page",),
    "/parts/SK520-DECK/": ("page",),
    "/": ("page",),
    "/sign-in/": ("next",),
}


@pytest.mark.parametrize("page", ASKED)
def test_nonsense_in_an_address_is_no_fault(page, client, address):
    address("settings")
    for turn, word in enumerate(ODD_WORDS[ASKED_HERE]):
        for name in ASKED[page][turn % TURNS :: TURNS]:
            assert client.get(page, {name: word}).status_code in (200, 302, 404), (name, word[:20])
        asked = {name: [word, "two"] for name in ASKED[page]}
        assert client.get(page, asked, headers={"hx-request": "true"}).status_code in (200, 302, 404), word[:20]
