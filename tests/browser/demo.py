"""The demo shop as pages are looked at in it: with the longest names, a new tool, and what leads to some pages."""

from datetime import timedelta
from decimal import Decimal
from urllib.parse import urlencode
from uuid import uuid4

from django.http import HttpResponse
from django.test import Client, RequestFactory
from django.urls import reverse
from django.views.defaults import server_error

from shared import clock
from shared.errors import Refused, TokenReused
from shared.refusals import RefusalMiddleware
from tests.fixtures import shelf
from tooling.calc.defect_lines import FOUND, SEEN, DefectLine
from tooling.models import (
    Entry,
    Kind,
    Part,
    PartRevision,
    Person,
    Picture,
    Place,
    PlaceCount,
    SetLine,
    Summary,
    Temperature,
    Tool,
    Wanted,
)
from tooling.selectors.containment.doubts import doubt_of
from tooling.selectors.containment.made_since import made_since
from tooling.selectors.place_counts import as_it_stands
from tooling.selectors.tag_facts import facts
from tooling.services import containment, deeds, place_counts
from tooling.services import first_lead as door
from tooling.services.checklists import STARTERS, Item, last_version, set_items
from tooling.services.defects import NEW, found_by, numbered
from tooling.services.parts import add_part
from tooling.services.tags.printed import mark
from tooling.services.tools import add_tool
from trimfixtures.models import Cutter, Feature
from trimfixtures.services.cutters import add_cutter
from trimfixtures.services.deeds import trim
from trimfixtures.services.features import add_feature
from trimfixtures.services.masks import describe

FIRST_LEAD = "Ada"
TRIM, BARE_TRIM = "COAM-TRIM", "NEW-TRIM"
NAMELESS_STEP = {"name.0": "", "note.0": "eyes, ears"}
MILLED = "14-PLUG"
BARE, LONG, LONG_PLACE = "NEW-1", "WWWWWWWW-1234.56", "RACK-NORTH-END-3"
LONG_NAME = "Harbor tender 4.2, forward buoyancy compartment, inner liner with anchor locker, starboard"
LONG_REASON = "deep scratch beside the anchor locker, found when the liner was already half laid up and the resin mixed"


def load() -> None:
    """The demo, and beside it what no demo would show: names at their longest, and a tool that has nothing yet."""
    shelf.load()
    ines = Person.objects.named("Ines")
    place = Place(code=LONG_PLACE, name="Rack at the north end, third shelf from below, behind the compressor")
    place.full_clean()
    place.save()
    add_tool(code=BARE, kind=Kind.INSERT, name="Drain plug seat")
    add_tool(code=BARE_TRIM, kind=Kind.TRIM_MASK, name="Drain plug, hole for its seat")
    wax = Tool.objects.get(code="TN-HULL").release_system
    long = add_tool(
        code=LONG, kind=Kind.MOLD, name=LONG_NAME, release_system=wax, place=place,
        owner="Sluicegate Rowing and Sculling Club of the Lower Estuary", owner_ref="liner mold 14",
    )  # fmt: skip
    deeds.hold(long, by=ines, recorded_by=ines, reason=LONG_REASON)


def first_lead() -> str:
    return reverse("first_lead", kwargs={"token": door.new_token()})


def a_picture() -> str:
    picture = Picture.objects.filter(tool__code="DECK-2B").latest("pk")
    return reverse("change_picture", kwargs={"code": "DECK-2B", "number": picture.pk})


def pictures_of_a_stop() -> str:
    picture = Picture.objects.exclude(entry=None).latest("pk")
    return reverse("entry_pictures", kwargs={"code": picture.tool.code, "number": picture.entry.number})


def a_defect(page: str, *, closed: bool = False) -> str:
    """A page of a defect that was found, seen larger and, if it is asked for, closed."""
    hull, ines = Tool.objects.get(code="TN-HULL"), Person.objects.named("Ines")
    who = {"by": ines, "recorded_by": ines}
    lines = (DefectLine(NEW, FOUND, "crack", Decimal(12), 412, 310, "flange", "by the second bolt"),)
    (number,) = found_by(deeds.take_note(hull, defects=numbered(lines), **who))
    deeds.see_defects(hull, lines=[DefectLine(number, SEEN, size_mm=Decimal(18), words="larger")], **who)
    if closed:
        deeds.repair(hull, area="spot", method="ground out and filled", defects=f"{number} closed", **who)
    return reverse(page, kwargs={"code": hull.code} | ({} if page == "defects" else {"number": number}))


def a_corrected_serial() -> str:
    """A number whose pull was corrected, as it was known just before that."""
    new = Entry.objects.filter(kind="pull", serial__gt="", part__gt="").exclude(replaces=None).latest("pk")
    before = new.recorded_at - timedelta(minutes=1)
    asked = {"part": new.part, "tool": new.tool.code, "known_at": before.isoformat()}
    return f"{reverse('serial', args=[new.serial])}?{urlencode(asked)}"


def parts_in_doubt() -> str:
    """What was made since a mold was last looked at, before it was stopped; one of them marked."""
    held = Entry.objects.filter(kind="hold", tool__code="DECK440").select_related("tool").latest("pk")
    found = made_since(doubt_of(held.tool.code, held.number), held.at)  # type: ignore[arg-type]
    line = next(one for one in found.lines if one.number)
    of, said = containment.Of(held.pk), {"by": held.by, "recorded_by": held.by}
    containment.mark(of, [(line.use, line.serial)], found="not_good", words="soft at the scupper", **said)
    return reverse("made_since", args=[held.tool.code, held.number])


def a_wanted_part() -> str:
    return reverse("change_wanted", kwargs={"number": Wanted.objects.on_list().latest("pk").pk})


def a_checklist() -> str:
    """The version before the last of the checklist of molds, which the demo may not have."""
    items = [*STARTERS["mold", "look_over"], Item("Gloss measured at the keel", "gloss", "GU", "60°", 3)]
    for version in (items[:-1], items):
        made = set_items("mold", "look_over", version, by=Person.objects.named("Ines"), at=clock.now())
    return reverse("checklist_version", args=["mold", "look_over", max(made.version - 1, 1)])


def a_look() -> str:
    """A look that answered a checklist, with a line that is not good and a value."""
    a_checklist()
    tool, ines = Tool.objects.get(code="DECK-2B"), Person.objects.named("Ines")
    gloss = {"quantity": "gloss", "value": Decimal("84.2"), "unit": "GU", "geometry": "60°", "spot": "keel"}
    answers = "1 good\n2 not_good: crazing by the bow\n3 good\n4 left\n5 good\n6 good"
    last = last_version("mold", "look_over")
    about = {"checklist": last.version, "answers": answers, "readings": [gloss]}
    entry = deeds.look(tool, passed=True, by=ines, recorded_by=ines, **about)
    return reverse("look", args=[tool.code, entry.number])


def a_count() -> str:
    """The count that the demo broke off, with one missing, one of another rack, and a tag that nobody knows."""
    ines = Person.objects.named("Ines")
    count = PlaceCount.objects.going_on().get(place__code="RACK-B")
    there, who = as_it_stands(count), {"by": ines, "recorded_by": ines}
    if not there.unknown:
        place_counts.miss(count, there.not_met[-1].tool, **who)
        place_counts.see(count, Tool.objects.get(code=TRIM), place=there.seen[0].place, **who)
        place_counts.met_unknown(count, "HTTPS://OLD.EXAMPLE/T/BOW-OLD-2/", by=ines)
    return reverse("count", kwargs={"number": count.number})


def a_count_that_is_done() -> str:
    return reverse("count", kwargs={"number": PlaceCount.objects.exclude(ended_at=None).latest("number").number})


def a_person() -> str:
    return reverse("person", kwargs={"number": Person.objects.named("Jonas").pk})


def a_hold() -> str:
    holds = Summary.objects.get(tool__code="TN-HULL").state["holds"]
    return reverse("hold_story", args=["TN-HULL", Entry.objects.get(pk=min(holds.values())).number])


def a_person_rights() -> str:
    return reverse("person_rights", kwargs={"number": Person.objects.named("Jonas").pk})


def a_revision() -> str:
    revision = PartRevision.objects.filter(part__number="SK520-DECK").latest("pk")
    return reverse("change_revision", kwargs={"part": "SK520-DECK", "revision": revision.pk})


def a_set_line() -> str:
    """The set with the form of a line that stands in for another one."""
    line = SetLine.objects.filter(revision__part__number="SK520-DECK", tool__code="COAM-B").latest("pk")
    return f"{reverse('edit_set', args=['SK520-DECK'])}?revision=B&line={line.pk}#line-{line.pk}"


def the_cutters() -> str:
    """The library, with what a page must have room for."""
    ines = Person.objects.named("Ines")
    for code, kind, nominal, state in (("C6-S", "cutter", 6, "here"), ("GB-16", "bushing", 16, "gone")):
        if not Cutter.objects.called(code).exists():
            add_cutter(by=ines, at=clock.now(), code=code, kind=kind, nominal_mm=Decimal(nominal), state=state)
    return reverse("cutters")


def the_cuts() -> str:
    """The cuts of a trim mask, whatever the demo says of it."""
    a_cut()
    return reverse("cuts", args=[TRIM])


def a_cut() -> str:
    """One of them; written down where there is none."""
    cut = Feature.objects.filter(mask__tool__code=TRIM).first()
    if cut is None:
        by = {"by": Person.objects.named("Ines"), "at": clock.now()}
        mask = describe(Tool.objects.get(code=TRIM), datum="pin and slot", outline="0 0; 400 0; 400 90; 0 90", **by)
        cut = add_feature(mask, kind="edge", method="bearing", cutter_mm=Decimal(12), **by)
    return reverse("change_cut", kwargs={"code": TRIM, "number": cut.pk})


def a_wrong_cut() -> HttpResponse:
    """A cutter that does not go through its guide bushing, with a size that is none."""
    address = reverse("add_cut", args=[TRIM])
    return sent(address, kind="hole", method="guide_bushing", cutter_mm="16", bushing_mm="12", width_mm="wide")


def a_pass() -> str:
    """The form of the first of its passes."""
    return reverse("change_pass", args=[MILLED, Tool.objects.get(code=MILLED).milling_passes.first().pk])


def a_wrong_pass() -> HttpResponse:
    """A step-over that is wider than its ball, on a slope that is none."""
    address = reverse("add_pass", args=[MILLED])
    return sent(address, kind="finishing", ball_diameter_mm="12", step_over_mm="13", slope_deg="90")


def an_empty_set() -> str:
    """The set of a part that was just written down."""
    ines = Person.objects.named("Ines")
    if not Part.objects.numbered("SK600-DECK").exists():
        add_part("SK600-DECK", by=ines, at=clock.now(), columns={"revision": "A", "name": LONG_NAME})
    return reverse("edit_set", args=["SK600-DECK"])


def a_tool_that_is_meant() -> HttpResponse:
    """A tool that is looked for by words of its name."""
    return sent("/parts/SK520-DECK/set/?revision=B", do="add", tool="tender hull")


def a_temperature() -> str:
    return reverse("strike_temperature", kwargs={"number": Temperature.objects.latest("at").pk})


def an_entry(deed: str) -> str:
    """The page of a deed on the last pull of a tool."""
    pull = Entry.objects.filter(tool__code="DECK-2B", kind="pull", voided_by=None).latest("number")
    return reverse(deed, kwargs={"code": "DECK-2B", "number": pull.number})


def just_pulled(code: str, came_off: str) -> str:
    """The page of what is seen on a pull of a moment ago."""
    ines = Person.objects.named("Ines")
    said = {"by": ines, "recorded_by": ines, "at": clock.now(), "came_off": came_off}
    pull = deeds.take_off(Tool.objects.get(code=code), lay_up=None, another=True, **said)
    return reverse("seen", kwargs={"code": code, "number": pull.number})


def just_gouged() -> str:
    """The page that asks for a cross and a picture, after a cut of a moment ago."""
    ines = Person.objects.named("Ines")
    cut = trim(Tool.objects.get(code="SEAT-TRIM"), by=ines, recorded_by=ines, part="SEAT", outcome="gouged")
    return reverse("tape_cross", kwargs={"code": cut.tool.code, "number": cut.number})


def just_cut_into() -> str:
    """The page that asks what that cut went into."""
    return just_gouged().replace("/cross/", "/cut-into/")


def half_not_said() -> str:
    """The page that asks how the second half came off, where only the first was said."""
    ines = Person.objects.named("Ines")
    halves = [(tool, None) for tool in Tool.objects.filter(code__in=("FIN-L", "FIN-R")).order_by("code")]
    pulls = deeds.take_off_set(halves, came_off="free", another=True, by=ines, recorded_by=ines, token=uuid4())
    return reverse("how_off", kwargs={"code": "FIN-R", "number": pulls[1].number})


def just_coated() -> str:
    """The page that asks a hand at the tablet whether to rub out what it wrote a moment ago."""
    mara, tablet = Person.objects.named("Mara"), Person.objects.named("Wall tablet")
    tool = Tool.objects.get(code="TN-DECK")
    coat = deeds.log_coat(tool, by=mara, recorded_by=tablet, at=clock.now())
    return reverse("rub_out", kwargs={"code": tool.code, "number": coat.number})


def sent(address: str, by: str = "Ines", **typed: str) -> HttpResponse:
    """What comes back when a form is sent."""
    client = Client()
    if by:
        client.force_login(Person.objects.named(by), backend="shared.access.RoleBackend")
    return client.post(address, typed)


def another_recipe() -> HttpResponse:
    """What another recipe would do, before it is written."""
    return sent("/tools/DECK-2B/release-system/", token=str(uuid4()), release_system="SEMI")


def open_too_long() -> HttpResponse:
    """A form whose guard against other sites has run out."""
    client = Client(enforce_csrf_checks=True)
    client.force_login(Person.objects.named("Ines"), backend="shared.access.RoleBackend")
    return client.post("/tools/DECK-2B/hold/", {"reason": "scratch"}, headers={"origin": "http://testserver"})


def refused(status: int) -> HttpResponse:
    """A refusal that no form was there to show."""
    request = RequestFactory().post("/tools/DECK-2B/hold/")
    request.user = Person.objects.named("Ines")
    kind = TokenReused if status == 409 else Refused
    reply = RefusalMiddleware(lambda request: HttpResponse()).process_exception(request, kind("It was held at 10:40."))
    assert reply is not None
    return reply


def broken() -> HttpResponse:
    return server_error(RequestFactory().get("/"))


def open_empty() -> None:
    """A shop with a lead and nothing else."""
    door.become(name=FIRST_LEAD, password="long enough for a test", shop_name="Saltbatch Boatworks", at=clock.now())


def printed_tags() -> str:
    """A print of the two tags that were wanted most."""
    tools = facts(Tool.objects.filter(code__in=("DECK-2A", "COAM-A")).values_list("pk", flat=True), clock.now())
    run = mark(tools, by=Person.objects.named("Ines"), at=clock.now(), count=2, given={})
    return reverse("printed_tags", args=[run.pk])
