"""A shop with everything that a sheet can say, made through the services; and a way to an empty one."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from functools import partial

from django.db import connection

from shared import clock
from tests.fixtures.once import once
from tests.plugin_triggers import lifted
from tooling import models
from tooling.services import deeds, place_counts
from tooling.services.checklists import Item, set_items
from tooling.services.lead_notes import lead_saw
from tooling.services.making_steps import Step, set_steps
from tooling.services.reading_limits import set_limit
from tooling.services.recipes import add_system, add_version
from tooling.services.tool_sets import start_from
from tooling.services.tools import add_tool
from trimfixtures.models import Cutter, CutterChange, Feature, Mask
from trimfixtures.services import deeds as mask_deeds

START = datetime(2026, 1, 5, 13, 0, 0, 250, tzinfo=UTC)
HOSTILE = ("=1+1", "+49 30", "-5", "@here", "\tx", "\rx", "'=1", "''@", "'tis", "#N/A", "_x000B_", "a\x0bb",
           "a\nb\r\nc")  # fmt: skip

_TABLES = (
    CutterChange, Feature, Mask, Cutter, models.MillingPass, models.PlugRecord,
    models.CountMark, models.PlaceCount, models.ContainmentMark, models.DefectMark, models.Defect,
    models.ReadingLimit, models.Right,
    models.SerialNumber, models.MakingStep, models.Wanted, models.SetLine, models.TagPrint, models.TagRun,
    models.ChecklistItem, models.Checklist,
    models.Temperature, models.SearchText, models.Picture, models.ToolChange, models.LeadNote, models.Wipe, models.Tin,
    models.Flag, models.Span, models.SealLine, models.Seal, models.Summary, models.Entry, models.ToolAlias,
    models.Tool, models.PartChange, models.PartRevision, models.Part, models.PlaceAlias, models.Place,
    models.RecipeVersion, models.ReleaseSystem, models.Shop, models.Person,
)  # fmt: skip


def make_empty() -> None:
    """An empty shop again, as after a migration."""
    with lifted():
        for table in _TABLES:
            table.objects.all()._raw_delete(using="default")
        connection.check_constraints()


@once
def make_shop() -> None:
    """Recipes with a change, racks in a room, parts, tools of all kinds, and a history with every kind of entry."""
    models.Shop(name="Kayak works", time_zone="America/New_York", week="Mon-Fri 08:00-17:00", hands=3).save()
    for code, columns in (("WAX", {"family": "paste_wax"}), ("SEMI", {"family": "semi_permanent", "accepts": "WAX"})):
        add_system(code=code, columns={"name": code.title(), "coat_gap_minutes": 0.5, **columns})
    wax = models.ReleaseSystem.objects.get(code="WAX")
    add_version(wax, at=START, columns={"name": "Wax", "family": "paste_wax", "break_in": "", "max_idle_days": ""})
    room = models.Place.objects.create(code="ROOM", name="Room")
    rack = models.Place.objects.create(code="A-1", name="Rack =1", parent=room, max_load_kg=Decimal("120.5"))
    models.PlaceAlias.objects.create(code="RACK.1", place=rack)
    part = models.Part.objects.create(number="520")
    for revision in ("B", "A"):
        models.PartRevision.objects.create(part=part, revision=revision, name="Deck", cure_c=Decimal("60.25"))
    plug = add_tool(code="P-1", kind="plug", name="Plug", release_system=wax, in_making=True)
    mold = add_tool(
        code="520", kind="mold", name="Deck mold", release_system=wax, place=rack, made_from=plug, hand="L",
        matched_set="Deck", mass_kg=Decimal("42.125"), built_on=date(2025, 12, 1), inspect_every_pulls=25, note="-5 kg",
    )  # fmt: skip
    models.ToolAlias.objects.create(tool=mold, code="DECK MOLD/1")
    rim = add_tool(code="R-1", kind="insert", name="Rim", release_system=wax, in_place_of=mold)
    mask = add_tool(code="T-1", kind="trim_mask", name="Deck mask")
    _set(part, mold, rim, mask)
    set_steps("plug", [Step("sanded 320"), Step("=waxed", "coat", "@ the bench")])
    for items in ([Item("=edges"), Item("Gloss", "gloss", "GU", "60°", 3)], [Item("@ the bench: edges")], []):
        set_items("mold", "acceptance", items, by=models.Person.objects.named("Ole"), at=START)
    gloss = {"quantity": "gloss", "unit": "GU", "worse": "down"}
    set_limit(kind="mold", geometry="60°", limit=Decimal("70.5"), note="=dull", **gloss)
    set_limit(tool=mask, limit=Decimal(60), **gloss)
    _describe(mask)
    _History(plug, mold, rim, mask, rack).write()


def _set(part, mold, rim, mask):
    """Of one revision; the other one has taken it over, and half of it is confirmed."""
    first, second = part.revisions.order_by("pk")
    lines = [
        models.SetLine(revision=first, role="hardware", item="8 bolts M6 =2", required=False),
        models.SetLine(revision=first, role="mold", tool=mold, order=2, alternative="Deck A"),
        models.SetLine(revision=first, role="insert", tool=rim, order=1),
        models.SetLine(revision=first, role="trim_mask", tool=mask),
    ]
    models.SetLine.objects.bulk_create(lines)
    start_from(second, first)
    models.SetLine.objects.filter(revision=second, role="insert").update(confirmed=True)


def _describe(trim_mask):
    """Its cuts in an order of their own, one of them twice, and a bushing that is gone; sizes typed in inches too."""
    cutter = Cutter.objects.create(code="C-6", kind="cutter", nominal_mm=Decimal("6.35"), fresh_on=date(2026, 1, 4))
    Cutter.objects.create(code="B-9", kind="bushing", state="gone", measured_mm=Decimal("8.97"), note="=lost")
    bushing = Cutter.objects.create(
        code="B-16", kind="bushing", nominal_mm=16, look_after_m=Decimal("40.5"),
        as_typed={"measured_mm": ["5/8", "in"]}, measured_mm=Decimal("15.875"), state="worn",
    )  # fmt: skip
    mask = Mask.objects.create(
        tool=trim_mask, stage="net", datum="pin =1", held_by="clamps", support="cradle", guiding="phenolic",
        seal_edge="resin", check_every=25, outline="0 0; 900 0; 900 300; 0 300", points="bow @ 0; stern @ 900",
        note="-",
    )  # fmt: skip
    drilled = {"kind": "hole", "method": "drill", "cutter_mm": Decimal(8), "pilot_mm": Decimal(5), "backing": "ply"}
    Feature.objects.bulk_create([
        Feature(mask=mask, kind="edge", method="bearing", cutter=cutter, bushing_mm=9, finish="rough"),
        Feature(mask=mask, order=2, name="rim", kind="cut_out", method="guide_bushing", cutter=cutter, bushing=bushing,
                kept="far_side", length_mm=Decimal("88.9"), width_mm=50, corner_mm=0, tolerance_mm=Decimal("0.25"),
                opening_mm=Decimal("97.5"), x_mm=Decimal("300.5"), y_mm=150, note="@", finish="net",
                as_typed={"length_mm": ["3.50", "in"]}),
        *(Feature(mask=mask, drill_bushing="slip", **drilled) for _twice in range(2)),
    ])  # fmt: skip
    Mask.objects.create(tool=add_tool(code="T-2", kind="trim_mask", name="Bare one"))


class _History:
    def __init__(self, plug, mold, rim, mask, rack):
        self.plug, self.mold, self.rim, self.mask, self.rack = plug, mold, rim, mask, rack
        mara, ole = (models.Person.objects.named(name) for name in ("Mara Ø", "Ole"))
        self.who = {"by": mara, "recorded_by": ole}
        self.at = START

    def do(self, deed, tool, **said):
        self.at += timedelta(hours=1)
        return deed(tool, **{"at": self.at, **self.who, **said})

    def write(self):
        self.write_surface()
        self.write_rest()
        self.write_corrections()
        for text in HOSTILE:
            self.do(deeds.take_note, self.mold, note=text)
        for note in ("seen", "not seen yet"):
            told = self.do(deeds.tell_lead, self.mold, note=note)
            told = deeds.correct(told, reason="typed wrong", changes={"note": f"{note}!"}, **self.who)
            if note == "seen":
                lead_saw(told, by=self.who["recorded_by"], at=self.at)

    def write_surface(self):
        do, mold = self.do, self.mold
        for tool in (mold, self.rim):
            do(deeds.set_starting_state, tool, prepared="no", total_pulls=12)
            do(deeds.strip, tool)
            do(deeds.log_sealer, tool, count=2, lot="S-1")
            do(deeds.log_coat, tool, count=3, lot="007", reason="count")
        do(deeds.log_coat, mold, area="spot", release_system="SEMI")
        do(deeds.install, self.rim, mold=mold)
        do(deeds.lay_film, mold, lot="F")
        do(deeds.clean, mold)
        about = {"part": "520", "revision": models.PartRevision.objects.get(revision="B"), "serial": "0173, 0174"}
        do(deeds.lay_up, mold, **about, film=False, earliest_pull=self.at + timedelta(hours=9))
        do(deeds.end_lay_up, mold, earliest_pull=self.at + timedelta(days=400))
        do(
            deeds.log_pull, mold, count=2, came_off="tight", film=True, part="520", serial="0173", cause="release",
            fault="drag", surface=self.rim, part_damaged=True, inserts_back=True, note="wedged",
        )  # fmt: skip
        do(deeds.lay_up, mold, reason="the yard waits", seen=["needs_strip 520", "needs_touch_up R-1"])
        do(deeds.abandon, mold, reason="power cut")
        do(deeds.check_release, mold, passed=True)
        do(deeds.want_wax, mold, reason="looks dull")
        do(deeds.see_build_up, mold)
        do(deeds.polish, mold, area="flange")
        do(deeds.take_note, mold, defects="1 found crack, 12.5 mm, at 412 310, on the flange: by the bolt")
        mended = {"material": "filler", "method": "ground out and filled", "defects": "1 closed"}
        do(deeds.repair, mold, lot="G-2", stands=Decimal("140.5"), unit="°F", **mended)
        do(deeds.resurface, mold)
        do(deeds.remove, self.rim)

    def write_rest(self):
        do, mold = self.do, self.mold
        do(deeds.hold, mold, reason="=chip")
        do(deeds.inspect, mold, passed=False, checklist=1, answers='1 good\n2 not_good: dull, see "keel"')
        do(deeds.inspect, mold, passed=True, by=None)
        do(deeds.set_interval, mold, count=6, part="520", evidence="3 of 6 coats")
        do(deeds.set_interval, mold, count=None)
        do(deeds.change_release_system, mold, release_system="SEMI")
        do(deeds.retire, self.rim, reason="cracked")
        do(deeds.reinstate, self.rim, reason="mended")
        do(deeds.move, mold, place=self.rack, home=True)
        do(deeds.change_home, mold, place=None)
        self.count()
        do(deeds.lend, mold, person="Yard +", until=date(2026, 9, 1))
        do(deeds.hand_back, mold)
        where = {"spot": "keel", "geometry": "60°", "standard": "ISO 2813", "calibrated_until": date(2026, 6, 30)}
        do(deeds.take_reading, mold, quantity="gloss", value=Decimal("-0.125"), unit="GU", instrument="G-60", **where)
        do(deeds.make_step, self.plug, step="sanded 320", work="sanding", material="paper", grit="P320")
        do(deeds.accept, self.plug, design_ref="D-12", design_revision="C")
        trimmed = {"part": "520", "revision": "B", "serial": "0173", "cutter": "C-6, B-16", "metres": Decimal("2.75")}
        do(mask_deeds.log_use, self.mask, **trimmed, minutes=Decimal("12.5"), outcome="slipped")
        do(
            mask_deeds.log_check, self.mask, passed=False, gauge="master 520", points="bow @ 0: 0.4; stern @ 900: out",
            limit_mm=Decimal("0.25"), instrument="CAL-3", calibrated_until=date(2026, 6, 30),
        )  # fmt: skip

    def count(self):
        """One tool met, the others missed, a tag that nobody knows; and a count that is still open."""
        ole = self.who["recorded_by"]
        first = place_counts.begin(self.rack, by=ole, at=self.at)
        self.do(partial(place_counts.see, first), self.mask, place=self.rack)
        place_counts.met_unknown(first, "=old tag", by=ole, at=self.at)
        place_counts.end(first, **self.who, at=self.at)
        place_counts.begin(self.rack.parent, by=None, at=self.at)

    def write_corrections(self):
        do, mold = self.do, self.mold
        early = do(deeds.log_coat, mold, at=START - timedelta(days=20))
        again = deeds.correct(early, reason="two", changes={"count": 2}, recorded_by=None)
        deeds.correct(again, reason="three", changes={"count": 3}, recorded_by=None)
        slip = do(deeds.log_pull, mold, surface=None)
        deeds.void(slip, reason="wrong mold", by=None, recorded_by=None)
        # a change of recipe that a late one makes idle, and an installation that is void while a pull named its insert
        do(deeds.change_release_system, mold, release_system="WAX")
        do(deeds.change_release_system, mold, release_system="WAX", at=self.at - timedelta(minutes=30))
        put_in = do(deeds.install, self.rim, mold=mold)
        do(deeds.log_pull, mold, surface=self.rim)
        deeds.void(put_in, reason="it lay on the bench", by=None, recorded_by=None, at=clock.now())
