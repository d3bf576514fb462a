"""What a trim mask is, beside what every tool is: how it sits, what guides the cut, how often it is checked."""

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.models.fields import at_least


class Stage(models.TextChoices):
    """At which cut of a part it is used, in the order of the work."""

    ROUGH = "rough", _("rough cut")
    AFTER_POST_CURE = "after_post_cure", _("after post-cure")
    NET = "net", _("net cut")


class Mask(models.Model):
    """The detail row of a tool of the kind trim mask. A trim mask without one is known by its tool alone.

    `outline`: a closed polyline as "x y; x y; ..." in mm (calc/outline.py). It is the line of the net cut.
    `points`: where its cut edge is checked, as "name @ mm; ..." along the outline (calc/points.py).
    """

    tool = models.OneToOneField("tooling.Tool", models.CASCADE, related_name="mask", verbose_name=_("trim mask"))
    stage = models.CharField(_("stage"), max_length=20, choices=Stage.choices, blank=True, default="")
    datum = models.CharField(_("datum"), max_length=200, blank=True, default="")
    held_by = models.CharField(_("held by"), max_length=200, blank=True, default="")
    support = models.CharField(_("the part is supported by"), max_length=200, blank=True, default="")
    guiding = models.CharField(_("guiding surface"), max_length=200, blank=True, default="")
    seal_edge = models.CharField(_("cut edge sealed"), max_length=200, blank=True, default="")
    check_every = models.PositiveIntegerField(
        _("checked every so many parts"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    outline = models.TextField(_("outline"), blank=True, default="")
    points = models.TextField(_("points of the check"), blank=True, default="")
    note = models.TextField(_("note"), blank=True, default="")

    class Meta:
        ordering = ["tool"]
        verbose_name = _("trim mask")
        verbose_name_plural = _("trim masks")
        constraints = [
            models.CheckConstraint(condition=models.Q(stage__in=["", *Stage.values]), name="mask_stage"),
            *at_least(1, "check_every", model="mask"),
        ]

    def __str__(self) -> str:
        return str(self.tool)
