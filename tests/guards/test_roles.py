"""Who may do what: every address, method and role in one table."""

import pytest
from django.db import transaction
from django.test import Client
from django.urls import NoReverseMatch, URLResolver, get_resolver, reverse

#        who may: "" is a person whose role was taken away while signed in
OPEN = {"stranger", "", "reader", "hand", "station", "lead"}
READ = {"reader", "hand", "station", "lead"}
LOG = {"hand", "station", "lead"}
LEAD = {"lead"}
NONE: set[str] = set()

# Name of the address: who may look at it, who may send something to it.
TABLE = {
    "healthz": (OPEN, NONE),
    "sign_in": (OPEN, OPEN),
    "sign_out": (NONE, READ),
    "first_lead": (OPEN, OPEN),
    "board": (READ, NONE),
    "wall": (READ, NONE),
    "wall_rows": (READ, NONE),
    "tools": (READ, NONE),
    "tools_table": (READ, NONE),
    "tool": (READ, NONE),
    "tool_sheet": (READ, NONE),
    "lift": (READ, NONE),
    "family": (READ, NONE),
    "family_sheet": (READ, NONE),
    "pictures": (READ, LOG),
    "many_pictures": (LOG, LOG),
    "change_picture": (LOG, LOG),
    "picture_file": (READ, NONE),
    "entry_pictures": (READ, LOG),
    "mark_picture": (NONE, LOG),
    "open_tag": (READ, NONE),
    "open_tag_printed": (READ, NONE),
    "new_tool": (LEAD, NONE),
    "new_tool_all": (LEAD, LEAD),
    "build_tool": (LEAD, LEAD),
    "change_tool": (LEAD, LEAD),
    "took": (READ, NONE),
    "took_table": (READ, NONE),
    "readings": (READ, NONE),
    "readings_table": (READ, NONE),
    "reading_limits": (READ, LEAD),
    "racks": (READ, NONE),
    "place": (READ, NONE),
    "rack_sheet": (READ, NONE),
    "new_places": (LEAD, LEAD),
    "change_place": (LEAD, LEAD),
    "seen_at": (LOG, LOG),
    "begin_count": (NONE, LOG),
    "counts": (READ, NONE),
    "count": (READ, LOG),
    "mend_count": (NONE, LOG),
    "open_place": (READ, NONE),
    "open_place_printed": (READ, NONE),
    "move": (LOG, LOG),
    "put_home": (NONE, LOG),
    "move_by_scan": (LOG, LOG),
    "lend": (LOG, LOG),
    "hand_back": (LOG, LOG),
    "parts": (READ, NONE),
    "part": (READ, NONE),
    "tool_set_sheet": (READ, NONE),
    "trim_sheet": (READ, NONE),
    "new_part": (LEAD, LEAD),
    "revise_part": (LEAD, LEAD),
    "change_revision": (LEAD, LEAD),
    "edit_set": (LEAD, LEAD),
    "put_into_set": (LEAD, LEAD),
    "serials": (READ, NONE),
    "serial": (READ, NONE),
    "serials_table": (READ, NONE),
    "made_since": (READ, LOG),
    "made_since_table": (READ, NONE),
    "made_since_sheet": (READ, NONE),
    "lots": (READ, NONE),
    "lot_made": (READ, LOG),
    "lot_made_table": (READ, NONE),
    "lot_made_sheet": (READ, NONE),
    "settings": (READ - {"station"}, READ - {"station"}),
    "recipes": (READ, NONE),
    "recipe": (READ, NONE),
    "new_recipe": (LEAD, LEAD),
    "change_recipe": (LEAD, LEAD),
    "take_in_recipe": (NONE, LEAD),
    "temperature": (READ, LOG),
    "rub_out_temperature": (NONE, LOG),
    "strike_temperature": (LEAD, LEAD),
    "wanted": (READ, LEAD),
    "change_wanted": (LEAD, LEAD),
    "take_off_wanted": (NONE, LEAD),
    "rub_out_wanted": (NONE, LEAD),
    "keep": (LEAD, NONE),
    "back_up_now": (NONE, LEAD),
    "check_now": (NONE, LEAD),
    "keep_seal": (LEAD, NONE),
    "backup_file": (LEAD, NONE),
    "lay_up": (LOG, LOG),
    "lay_up_done": (LOG, LOG),
    "abandoned": (LOG, LOG),
    "pulled": (LOG, LOG),
    "take_off_mold": (LOG, LOG),
    "coat": (LOG, LOG),
    "coat_now": (LOG, NONE),
    "wiped": (NONE, LOG),
    "coats": (LOG, NONE),
    "coats_together": (LOG, LOG),
    "together_now": (LOG, NONE),
    "together_wiped": (NONE, LOG),
    "together_rub_out": (NONE, LOG),
    "tin": (LOG, LOG),
    "film": (LOG, LOG),
    "strip": (LOG, LOG),
    "repair": (LOG, LOG),
    "polish": (LOG, LOG),
    "resurfaced": (LOG, LOG),
    "clean": (LOG, LOG),
    "build_up": (LOG, LOG),
    "release_check": (LOG, LOG),
    "wax_wanted": (LOG, LOG),
    "installed": (LOG, LOG),
    "removed": (LOG, LOG),
    "note": (LOG, LOG),
    "reading": (LOG, LOG),
    "interval": (LEAD, LEAD),
    "release_system": (LEAD, LEAD),
    "in_making": (READ, NONE),
    "making_steps": (LEAD, LEAD),
    "checklists": (READ, LEAD),
    "checklist_version": (READ, NONE),
    "look": (READ, NONE),
    "look_sheet": (READ, NONE),
    "make_step": (LOG, LOG),
    "make_work": (LOG, LOG),
    "accepted": (LEAD, LEAD),
    "reinstated": (LEAD, LEAD),
    "hold": (LOG, LOG),
    "defects": (READ, NONE),
    "defect": (READ, NONE),
    "defect_new": (LOG, LOG),
    "defect_seen": (LOG, LOG),
    "defect_again": (LOG, LOG),
    "tell_lead": (LOG, LOG),
    "lead_saw": (LEAD, LEAD),
    "looked_at": (LOG, LOG),
    "held": (READ, NONE),
    "holds": (READ, NONE),
    "hold_story": (READ, NONE),
    "how_off": (LOG, LOG),
    "inserts_back": (LOG, LOG),
    "trimmed": (LOG, LOG),
    "check_edge": (LOG, LOG),
    "tape_cross": (LOG, NONE),
    "cut_into": (LOG, LOG),
    "seen": (LOG, LOG),
    "rub_out": (LOG, LOG),
    "void": (LEAD, LEAD),
    "correct": (LEAD, LEAD),
    "people": (LEAD, NONE),
    "new_person": (LEAD, LEAD),
    "person": (LEAD, LEAD),
    "person_rights": (LEAD, LEAD),
    "rights": (READ, NONE),
    "shop_settings": (LEAD, LEAD),
    "walk": (LEAD, LEAD),
    "take_back": (NONE, LEAD),
    "starting_state": (LEAD, LEAD),
    "first_place": (LEAD, LEAD),
    "first_recipe": (LEAD, LEAD),
    "first_tool": (LEAD, LEAD),
    "leave_steps": (NONE, READ),
    "try_demo": (READ, READ),
    "join": (OPEN, OPEN),
    "imports": (LEAD, LEAD),
    "import_template": (LEAD, NONE),
    "import_one": (LEAD, NONE),
    "import_match": (LEAD, LEAD),
    "import_words": (LEAD, LEAD),
    "import_try": (NONE, LEAD),
    "import_again": (NONE, LEAD),
    "import_marked_up": (LEAD, NONE),
    "import_bring_in": (NONE, LEAD),
    "import_drop": (NONE, LEAD),
    "export": (NONE, LEAD),
    "jobs": (LEAD, NONE),
    "job": (LOG, NONE),
    "cancel_job": (NONE, LOG),
    "job_file": (LOG, NONE),
    "tag_lost": (LOG, LOG),
    "tag_found": (NONE, LOG),
    "tags": (READ, NONE),
    "tag_address_reserved": (NONE, LEAD),
    "print_tags": (READ, LOG),
    "printed_tags": (READ, NONE),
    "put_back_tags": (NONE, LOG),
    "printed_tags_file": (READ, NONE),
    "edge_checks": (READ, NONE),
    "check_sheet": (READ, NONE),
    "trim_bench": (READ, NONE),
    "cutters": (READ, NONE),
    "new_cutter": (LEAD, LEAD),
    "cutter": (READ, LOG),
    "plug_record": (READ, LEAD),
    "plug_sheet": (READ, NONE),
    "acceptance_record": (READ, NONE),
    "add_pass": (LEAD, LEAD),
    "change_pass": (LEAD, LEAD),
    "cuts": (LEAD, LEAD),
    "add_cut": (LEAD, LEAD),
    "change_cut": (LEAD, LEAD),
}
SAFE, SENT, NEVER = ("GET", "HEAD"), ("POST",), ("PUT", "PATCH", "DELETE", "TRACE")
# Nothing of this kind exists: somebody who may ask is told so, somebody who may not is not.
FILLED = {
    "code": "NO-SUCH", "number": 1, "token": "none", "digest": "0" * 64, "part": "NO-SUCH", "revision": 1,
    "place_code": "NO-SUCH", "backup": "none.zip", "recipe_code": "NO-SUCH", "serial": "NO-SUCH",
    "cutter_code": "NO-SUCH", "kind": "no-such", "lot": "NO-SUCH",
    "purpose": "no-such", "version": 1,
}  # fmt: skip
KEYS = (
    [], ["number"], ["code"], ["token"], ["digest"], ["code", "number"], ["part"], ["part", "revision"], ["place_code"],
    ["backup"], ["recipe_code"], ["serial"],
    ["cutter_code"], ["kind"], ["lot"],
    ["kind", "purpose", "version"],
)  # fmt: skip


def patterns(resolver):
    for entry in resolver.url_patterns:
        yield from patterns(entry) if isinstance(entry, URLResolver) else [entry]


def address_of(name):
    """The address with as much filled in as its pattern wants."""
    for keys in KEYS:
        try:
            return reverse(name, kwargs={key: FILLED[key] for key in keys})
        except NoReverseMatch:
            continue
    raise AssertionError(f"FILLED does not say what to fill into the address {name}")


def outcome(reply):
    """What happened to the asker: not let in, told no, or whatever the page itself does."""
    if reply.status_code == 302 and reply.url.startswith("/sign-in/?next="):
        return "asked who it is"
    return "refused" if reply.status_code in (403, 405) else "let through"


def expected(name, method, role):
    look, send = TABLE[name]
    may = look if method in SAFE else send if method in SENT else NONE
    if role in may:
        return {"let through"}
    # No view asks who it is before the method is looked at, or after: both keep the door shut.
    return {"asked who it is", "refused"} if role in ("stranger", "") else {"refused"}


def test_the_table_names_every_address():
    assert {entry.name for entry in patterns(get_resolver())} == set(TABLE)


@pytest.mark.django_db
@pytest.mark.parametrize("role", sorted(OPEN))
def test_an_address_lets_through_whom_the_table_names(role, django_user_model):
    client = somebody(role, django_user_model)
    signed_in = dict(client.cookies)
    wrong = []
    for name in TABLE:
        with transaction.atomic():
            wrong += tried(name, role, client)
            transaction.set_rollback(True)
        # Whoever was signed out by it is in again.
        client.cookies.clear()
        client.cookies.update(signed_in)
    assert wrong == []


def somebody(role, people):
    client = Client()
    if role != "stranger":
        person = people.objects.create_person("Somebody", role or "hand", "long enough for a test")
        client.force_login(person)
        people.objects.update(role=role)
    return client


def tried(name, role, client):
    for method in (*SAFE, *SENT, *NEVER):
        reply = client.generic(method, address_of(name))
        if outcome(reply) not in expected(name, method, role):
            yield f"{method} {name}: {outcome(reply)}"
        if name == "sign_out" and method == "POST":
            return
