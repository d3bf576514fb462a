"""How a plug sat on the machine, and how it was milled. What was done by hand stands in its history."""

import enum

from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.models.fields import Measured, NumberField, at_least


class PlugRecord(Measured):
    """The detail row of a plug: so that the next one is set up alike. A plug without one is known by its tool alone."""

    tool = models.OneToOneField("Tool", models.CASCADE, related_name="plug", verbose_name=_("plug"))
    base = models.CharField(_("base"), max_length=200, blank=True, default="")
    stock = models.CharField(_("milled from"), max_length=200, blank=True, default="")
    machine = models.CharField(_("machine"), max_length=200, blank=True, default="")
    tilt_deg = NumberField(_("tilt"), null=True, blank=True)
    tilt_about = models.CharField(_("tilted about"), max_length=200, blank=True, default="")
    zero = models.CharField(_("zero"), max_length=200, blank=True, default="")
    # One of the tool's pictures: how it sat.
    picture = models.ForeignKey("Picture", models.PROTECT, null=True, blank=True, related_name="+")
    note = models.TextField(_("note"), blank=True, default="")

    class Meta:
        ordering = ["tool"]
        verbose_name = _("plug record")
        verbose_name_plural = _("plug records")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(tilt_deg=None) | models.Q(tilt_deg__gt=-90, tilt_deg__lt=90), name="plug_tilt_range"
            ),
        ]

    def __str__(self) -> str:
        return str(self.tool)


class Pass(models.TextChoices):
    ROUGHING = "roughing", _("roughing")
    SEMI_FINISHING = "semi_finishing", _("semi-finishing")
    FINISHING = "finishing", _("finishing")

    # What they leave is sanded away by hand: the scallop of these is asked about.
    BALL = enum.nonmember(frozenset({"semi_finishing", "finishing"}))


class MillingPass(Measured):
    """One pass of a plug on the machine, planned or cut. Lengths in mm, feed in mm a minute, angles in degrees."""

    # What a number is worked out from; where one of them lacks, it is not.
    OF_SCALLOP = ("ball_diameter_mm", "step_over_mm")
    OF_TIME = ("width_mm", "length_mm", "step_over_mm", "feed_mm_min")
    OF_WALL = ("ball_diameter_mm", "holder_diameter_mm", "stickout_mm", "wall_height_mm", "wall_angle_deg")
    # What is measured on one plug, and holds for no other.
    OF_ITS_SHAPE = ("slope_deg", "width_mm", "length_mm", "wall_height_mm", "wall_angle_deg")

    tool = models.ForeignKey("Tool", models.CASCADE, related_name="milling_passes", verbose_name=_("plug"))
    order = models.PositiveIntegerField(_("order"))
    kind = models.CharField(_("pass"), max_length=16, choices=Pass.choices)
    name = models.CharField(_("of what"), max_length=80, blank=True, default="")
    cutter = models.CharField(_("cutter"), max_length=80, blank=True, default="")
    ball_diameter_mm = NumberField(_("ball diameter"), null=True, blank=True)
    step_over_mm = NumberField(_("step-over"), null=True, blank=True)
    step_down_mm = NumberField(_("step-down"), null=True, blank=True)
    feed_mm_min = NumberField(_("feed"), null=True, blank=True)
    slope_deg = NumberField(_("steepest slope across the step"), null=True, blank=True)
    width_mm = NumberField(_("width that is covered"), null=True, blank=True)
    length_mm = NumberField(_("length of one pass"), null=True, blank=True)
    both_ways = models.BooleanField(_("cuts both ways"), default=True)
    holder_diameter_mm = NumberField(_("diameter of holder or chuck"), null=True, blank=True)
    stickout_mm = NumberField(_("cutter out of the holder"), null=True, blank=True)
    wall_height_mm = NumberField(_("height of the steepest wall"), null=True, blank=True)
    wall_angle_deg = NumberField(_("angle of the steepest wall"), null=True, blank=True)
    minutes_taken = NumberField(_("minutes it took"), null=True, blank=True)
    note = models.TextField(_("note"), blank=True, default="")

    class Meta:
        ordering = ["tool", "order", "id"]
        verbose_name = _("milling pass")
        verbose_name_plural = _("milling passes")
        constraints = [
            models.CheckConstraint(condition=models.Q(kind__in=Pass.values), name="milling_pass_kind"),
            *at_least(
                0, "ball_diameter_mm", "step_over_mm", "step_down_mm", "feed_mm_min", "slope_deg", "width_mm",
                "length_mm", "holder_diameter_mm", "stickout_mm", "wall_height_mm", "wall_angle_deg", "minutes_taken",
                model="milling_pass",
            ),
        ]  # fmt: skip

    def __str__(self) -> str:
        return f"{self.tool} {self.order}"
