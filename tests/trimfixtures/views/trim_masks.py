"""A trim mask with two cuts for the tests of what a trimmer reads, written down as a lead would."""

from decimal import Decimal

from tests.tooling.views.works import ago, mold
from tooling.models import Kind, Part, PartRevision, Person, SetLine, Tool
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.services.masks import describe


def trim_mask(lead: Person, code: str = "COAM-TRIM") -> Tool:
    """The trim mask of a cockpit: it stands in the sets of two revisions, one of which nobody has confirmed."""
    tool = mold(code, None, kind=Kind.TRIM_MASK, pulls=None, name="Cockpit coaming", hand="L")
    facts = {"datum": "Pin in the bow hole", "held_by": "Two toggle clamps", "seal_edge": "Epoxy", "check_every": 25}
    outline, points = "0 0; 860 0; 860 460; 0 460", "bow @ 0; stern @ 1090"
    mask = describe(tool, by=lead, at=ago(hours=1), stage="net", outline=outline, points=points, **facts)
    cuts(mask)
    part = Part.objects.create(number=f"{code}/DECK")
    for name, confirmed in (("A", True), ("B", False)):
        revision = PartRevision.objects.create(part=part, revision=name, name="Sea kayak deck")
        SetLine.objects.create(revision=revision, role="trim_mask", tool=tool, confirmed=confirmed)
    return tool


def cuts(mask: Mask) -> None:
    """A hole that is drilled and an opening that is routed, whose bushing measures less than it should."""
    bushing = Cutter.objects.create(code="FB-20", kind="bushing", nominal_mm=20, measured_mm=Decimal("19.96"))
    cutter = Cutter.objects.create(code="C-8", kind="cutter", nominal_mm=8, state="gone")
    Feature.objects.create(
        mask=mask, order=1, name="Bolt hole", kind="hole", method="drill", cutter_mm=6, width_mm=6, x_mm=430, y_mm=30,
        drill_bushing="slip", pilot_mm=4, backing="Pine block",
    )  # fmt: skip
    Feature.objects.create(
        mask=mask, order=2, name="Cockpit", kind="cut_out", method="guide_bushing", cutter=cutter, bushing=bushing,
        length_mm=800, width_mm=400, corner_mm=90, tolerance_mm=Decimal("0.3"), finish="net",
    )  # fmt: skip
