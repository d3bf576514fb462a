"""The cuts of a trim mask, each with what cuts it and what guides that."""

import enum
from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.models.fields import Measured, NumberField, at_least
from trimfixtures.models.cutters import Cutter
from trimfixtures.models.masks import Mask


class FeatureKind(models.TextChoices):
    EDGE = "edge", _("edge")
    CUT_OUT = "cut_out", _("cut-out")
    HOLE = "hole", _("hole")
    SLOT = "slot", _("slot")
    MARK = "mark", _("mark")

    # What is cut inside the part: the trim mask has an opening for it.
    INSIDE = enum.nonmember(frozenset({"cut_out", "hole", "slot"}))


class Method(models.TextChoices):
    GUIDE_BUSHING = "guide_bushing", _("router with a guide bushing")
    BEARING = "bearing", _("router with a bearing cutter")
    SCRIBE = "scribe", _("scribe")
    KNIFE = "knife", _("knife")
    DRILL = "drill", _("drill")
    SAW = "saw", _("saw")

    ROUTED = enum.nonmember(frozenset({"guide_bushing", "bearing"}))


class Kept(models.TextChoices):
    """Which piece is the part: the one under the trim mask, or the one beyond the cutter (an inlay piece)."""

    MASK_SIDE = "mask_side", _("the piece under the trim mask")
    FAR_SIDE = "far_side", _("the piece beyond the cutter")


class Finish(models.TextChoices):
    ROUGH = "rough", _("rough")
    NET = "net", _("net")


class DrillBushing(models.TextChoices):
    FIXED = "fixed", _("fixed bushing")
    SLIP = "slip", _("slip bushing")


class FeatureQuerySet(models.QuerySet["Feature"]):
    def in_order(self) -> "FeatureQuerySet":
        """In cutting order: as numbered; what has no number in the order it was written, an edge last of all."""
        last = models.Case(models.When(order=None, kind=FeatureKind.EDGE, then=1), default=0)
        return self.order_by(last, models.F("order").asc(nulls_last=True), "pk")


class Feature(Measured):
    """One cut. Sizes and place are those of the wanted cut in the part, in mm; `opening_mm` is measured on the mask.

    A cutter or bushing of the library stands before a size that is only written here.
    """

    mask = models.ForeignKey(Mask, models.CASCADE, related_name="features", verbose_name=_("trim mask"))
    order = models.PositiveIntegerField(_("order"), null=True, blank=True, validators=[MinValueValidator(1)])
    name = models.CharField(_("name"), max_length=80, blank=True, default="")
    kind = models.CharField(_("kind"), max_length=10, choices=FeatureKind.choices)
    method = models.CharField(_("method"), max_length=20, choices=Method.choices)
    cutter = models.ForeignKey(Cutter, models.PROTECT, null=True, blank=True, related_name="cuts")
    bushing = models.ForeignKey(Cutter, models.PROTECT, null=True, blank=True, related_name="guides")
    cutter_mm = NumberField(_("cutter diameter"), null=True, blank=True)
    bushing_mm = NumberField(_("guide bushing diameter"), null=True, blank=True)
    kept = models.CharField(_("kept"), max_length=10, choices=Kept.choices, default=Kept.MASK_SIDE)
    finish = models.CharField(_("rough or net"), max_length=10, choices=Finish.choices, blank=True, default="")
    length_mm = NumberField(_("length"), null=True, blank=True)
    width_mm = NumberField(_("width"), null=True, blank=True)
    corner_mm = NumberField(_("corner radius"), null=True, blank=True)
    x_mm = NumberField(_("x"), null=True, blank=True)
    y_mm = NumberField(_("y"), null=True, blank=True)
    opening_mm = NumberField(_("measured width of the opening"), null=True, blank=True)
    tolerance_mm = NumberField(_("tolerance"), null=True, blank=True)
    drill_bushing = models.CharField(
        _("drill bushing"), max_length=10, choices=DrillBushing.choices, blank=True, default=""
    )
    pilot_mm = NumberField(_("pilot hole"), null=True, blank=True)
    backing = models.CharField(_("backing"), max_length=200, blank=True, default="")
    note = models.TextField(_("note"), blank=True, default="")
    token = models.UUIDField(null=True, blank=True, unique=True, editable=False)
    asked = models.CharField(max_length=16, blank=True, default="", editable=False)

    objects = FeatureQuerySet.as_manager()

    class Meta:
        ordering = ["mask", "order", "pk"]
        verbose_name = _("cut of a trim mask")
        verbose_name_plural = _("cuts of trim masks")
        constraints = [
            models.CheckConstraint(condition=models.Q(kind__in=FeatureKind.values), name="feature_kind"),
            models.CheckConstraint(condition=models.Q(method__in=Method.values), name="feature_method"),
            models.CheckConstraint(condition=models.Q(kept__in=Kept.values), name="feature_kept"),
            models.CheckConstraint(condition=models.Q(finish__in=["", *Finish.values]), name="feature_finish"),
            models.CheckConstraint(
                condition=models.Q(drill_bushing__in=["", *DrillBushing.values]), name="feature_drill_bushing"
            ),
            *at_least(1, "order", model="feature"),
            *at_least(0, "corner_mm", "tolerance_mm", model="feature"),
            *(
                models.CheckConstraint(condition=models.Q(**{f"{name}__gt": 0}), name=f"feature_{name}_range")
                for name in ("cutter_mm", "bushing_mm", "length_mm", "width_mm", "opening_mm", "pilot_mm")
            ),
        ]

    def __str__(self) -> str:
        return self.name or f"{self.get_kind_display()} {self.order or ''}".strip()

    @property
    def is_inside(self) -> bool:
        """Whether it is cut inside an opening of the trim mask."""
        return self.kind in FeatureKind.INSIDE

    @property
    def cutter_nominal(self) -> Decimal | None:
        """Diameter of its cutter as it is meant to be, in mm."""
        return _nominal(self.cutter, self.cutter_mm)

    @property
    def bushing_nominal(self) -> Decimal | None:
        """Diameter of its guide bushing, or of the bearing of a bearing cutter, as it is meant to be, in mm."""
        return _nominal(self.bushing, self.bushing_mm)


def _nominal(one: Cutter | None, own: Decimal | None) -> Decimal | None:
    return one.nominal_mm if one is not None and one.nominal_mm is not None else own
