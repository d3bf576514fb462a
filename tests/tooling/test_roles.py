"""Who gets what at every address: one line an address and method. An address that is missing here is a failure."""

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLResolver, get_resolver, reverse

from tests.tooling.views.deeds.conftest import happened, shop
from tooling.models import Entry, PartRevision, Person, Place

__all__ = ["shop"]

pytestmark = pytest.mark.django_db
ROLES = ("stranger", "reader", "hand", "lead", "station")

#   address            GET: stranger reader hand lead station    POST, with nothing filled in
EVERYBODY = (302, 200, 200, 200, 200), (302, 405, 405, 405, 405)  # a page to look at
ON_THE_WAY = (302, 302, 302, 302, 302), (302, 405, 405, 405, 405)  # leads to such a page
LOGGERS = (302, 403, 200, 200, 200), (302, 403, 200, 200, 200)  # a deed: its form, and again with what is wrong
LEADS = (302, 403, 403, 200, 403), (302, 403, 403, 200, 403)
LEADS_LOOK = (302, 403, 403, 200, 403), (302, 403, 403, 405, 403)  # a page that a lead looks at
# no job and no upload has this number
NO_SUCH = (302, 403, 403, 404, 403), (302, 403, 403, 404, 403)
NO_SUCH_LOOK = (302, 403, 403, 404, 403), (302, 403, 403, 405, 403)
NO_SUCH_DEED = (302, 403, 403, 405, 403), (302, 403, 403, 404, 403)
TABLE = {
    "healthz": ((200,) * 5, (405,) * 5),
    "sign_in": ((200, 302, 302, 302, 302), (200, 302, 302, 302, 302)),
    "sign_out": ((302, 405, 405, 405, 405), (302, 302, 302, 302, 200)),  # a station is asked once more
    "first_lead": ((404,) * 5, (404,) * 5),
    "board": EVERYBODY,
    "wall": EVERYBODY,
    "wall_rows": EVERYBODY,
    "tools": EVERYBODY,
    "tools_table": EVERYBODY,
    "tool": EVERYBODY,
    "tool_sheet": EVERYBODY,
    "pictures": ((302, 200, 200, 200, 200), (302, 403, 200, 200, 200)),
    "many_pictures": LOGGERS,
    "change_picture": ((302, 403, 404, 404, 404), (302, 403, 404, 404, 404)),  # the tool has no picture
    "picture_file": ((302, 404, 404, 404, 404), (302, 405, 405, 405, 405)),
    "entry_pictures": ((302, 200, 200, 200, 200), (302, 403, 200, 200, 200)),
    "mark_picture": ((302, 403, 405, 405, 405), (302, 403, 404, 404, 404)),  # the tool has no picture
    "new_tool": LEADS,
    "change_tool": LEADS,
    "racks": EVERYBODY,
    "place": EVERYBODY,
    "new_places": LEADS,
    "change_place": LEADS,
    "seen_at": ((302, 403, 302, 302, 302), (302, 403, 302, 302, 200)),  # only where the place was scanned, or a station
    "open_place": ON_THE_WAY,
    "open_place_printed": ON_THE_WAY,
    "move": LOGGERS,
    "put_home": ((302, 403, 405, 405, 405), (302, 403, 302, 302, 302)),
    "parts": EVERYBODY,
    "part": EVERYBODY,
    "new_part": LEADS,
    "revise_part": LEADS,
    "change_revision": LEADS,
    "settings": ((302, 200, 200, 200, 403), (302, 200, 200, 200, 403)),  # a shared tablet is nobody's
    "recipes": EVERYBODY,
    "recipe": EVERYBODY,
    "new_recipe": LEADS,
    "change_recipe": LEADS,
    "take_in_recipe": ((302, 403, 403, 405, 403), (302, 403, 403, 302, 403)),
    "open_tag": ON_THE_WAY,
    "open_tag_printed": ON_THE_WAY,
    "temperature": ((302, 200, 200, 200, 200), (302, 403, 200, 200, 200)),
    "rub_out_temperature": ((302, 403, 405, 405, 405), (302, 403, 404, 404, 404)),  # there is no such measurement
    "strike_temperature": NO_SUCH,
    "keep": ((302, 403, 403, 200, 403), (302, 403, 403, 405, 403)),
    "back_up_now": ((302, 403, 403, 405, 403), (302, 403, 403, 302, 403)),
    "check_now": ((302, 403, 403, 405, 403), (302, 403, 403, 302, 403)),
    "keep_seal": ((302, 403, 403, 200, 403), (302, 403, 403, 405, 403)),
    "backup_file": ((302, 403, 403, 404, 403), (302, 403, 403, 405, 403)),  # there is no such backup
    "lay_up": LOGGERS,
    "pulled": LOGGERS,
    "lay_up_done": LOGGERS,
    "abandoned": LOGGERS,
    "coat": LOGGERS,
    "coat_now": ((302, 403, 200, 200, 200), (302, 403, 405, 405, 405)),
    "wiped": ((302, 403, 405, 405, 405), (302, 403, 404, 404, 404)),  # no coat is named
    "coats": ((302, 403, 200, 200, 200), (302, 403, 405, 405, 405)),
    "coats_together": LOGGERS,
    "together_now": ((302, 403, 200, 200, 200), (302, 403, 405, 405, 405)),
    "together_wiped": ((302, 403, 405, 405, 405), (302, 403, 302, 302, 302)),
    "together_rub_out": ((302, 403, 405, 405, 405), (302, 403, 302, 302, 302)),
    "tin": ((302, 403, 404, 404, 404), (302, 403, 404, 404, 404)),  # there is no such recipe
    "film": LOGGERS,
    "strip": LOGGERS,
    "repair": LOGGERS,
    "polish": LOGGERS,
    "resurfaced": LOGGERS,
    "clean": LOGGERS,
    "build_up": LOGGERS,
    "release_check": LOGGERS,
    "wax_wanted": LOGGERS,
    "installed": LOGGERS,
    "removed": LOGGERS,
    "note": LOGGERS,
    "reading": LOGGERS,
    "interval": LEADS,
    "release_system": LEADS,
    "hold": LOGGERS,
    "tell_lead": LOGGERS,
    "lead_saw": ((302, 403, 403, 404, 403), (302, 403, 403, 404, 403)),  # a pull is not told to the lead
    "looked_at": LOGGERS,
    # Only a pull of one's own of a moment ago is shown; the strip of tape has no form that could be filled in wrongly.
    "seen": ((302, 403, 302, 302, 302), (302, 403, 200, 200, 200)),
    "how_off": ((302, 403, 302, 302, 302), (302, 403, 200, 200, 200)),  # how it came off is said already
    "inserts_back": LOGGERS,
    "rub_out": ((302, 403, 302, 302, 302), (302, 403, 302, 302, 200)),  # a station is asked whose hands
    "void": LEADS,
    "correct": LEADS,
    "people": ((302, 403, 403, 200, 403), (302, 403, 403, 405, 403)),
    "new_person": LEADS,
    "person": LEADS,
    "shop_settings": LEADS,
    "walk": LEADS,
    "take_back": ((302, 403, 403, 405, 403), (302, 403, 403, 400, 403)),  # not taken in today by this lead
    "starting_state": LEADS,
    "first_place": LEADS,
    "first_recipe": LEADS,
    "first_tool": LEADS,
    "leave_steps": ((302, 405, 405, 405, 405), (302,) * 5),
    "join": ((404,) * 5, (404,) * 5),
    "imports": LEADS,
    "import_template": LEADS_LOOK,
    "import_one": NO_SUCH_LOOK,
    "import_match": NO_SUCH,
    "import_words": NO_SUCH,
    "import_try": NO_SUCH_DEED,
    "import_again": NO_SUCH_DEED,
    "import_marked_up": NO_SUCH_LOOK,
    "import_bring_in": NO_SUCH_DEED,
    "import_drop": NO_SUCH_DEED,
    "export": ((302, 403, 403, 405, 403), (302, 403, 403, 302, 403)),
    "jobs": LEADS_LOOK,
    "job": NO_SUCH_LOOK,
    "cancel_job": NO_SUCH_DEED,
    "job_file": NO_SUCH_LOOK,
}
KEYS = {"code": "DECK-2A", "token": "made-up", "digest": "0" * 64, "backup": "none.zip", "recipe_code": "NONE"}


def patterns(resolver):
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from patterns(entry)
        else:
            yield entry


ADDRESSES = {entry.name: entry for entry in patterns(get_resolver())}


def cases(name):
    """Method, role and the status that it gets."""
    for method, row in zip(("get", "post"), TABLE[name], strict=True):
        for role, expected in zip(ROLES, row, strict=True):
            yield method, role, expected


def test_every_address_is_in_the_table():
    assert set(ADDRESSES) == set(TABLE)


def address(name, number):
    known = {**KEYS, "number": number}
    if "recipe" in name:
        known["code"] = "WAX"
    if name == "person":
        known["number"] = Person.objects.order_by("pk").values_list("pk", flat=True).first() or 0
    known |= {"place_code": "RACK-B", "part": "SK520-DECK", "revision": PartRevision.objects.get().pk}
    wanted = ADDRESSES[name].pattern.converters
    return reverse(name, kwargs={key: known[key] for key in wanted})


@pytest.mark.parametrize("name", TABLE)
def test_a_role_gets_what_the_table_says(name, shop, request):
    happened.log_pull(shop.mold, came_off="free")
    pull = Entry.objects.get(kind="pull")
    Place.objects.create(code="RACK-B", name="Rack B")
    people = {role: request.getfixturevalue(role) for role in ROLES if role != "stranger"}
    for method, role, expected in cases(name):
        client = Client()
        if role in people:
            client.force_login(people[role])
        before = Entry.objects.count()
        with transaction.atomic():
            answer = getattr(client, method)(address(name, pull.number))
            assert Entry.objects.count() == before
            transaction.set_rollback(True)
        assert answer.status_code == expected, f"{method} by {role}"
        if role == "stranger" and expected == 302 and name != "sign_out":
            assert answer.url.startswith("/sign-in/?next=")
