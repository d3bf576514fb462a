"""The shop's own limits of readings. None is built in: nobody has published one for tools like these."""

from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext_lazy as _

from tooling.models.fields import NumberField
from tooling.models.tools import Kind


class Worse(models.TextChoices):
    UP = "up", _("a higher reading is worse")
    DOWN = "down", _("a lower reading is worse")


class ReadingLimit(models.Model):
    """Of one quantity in one unit and geometry: for all tools of a kind, or for one tool, which then goes first."""

    kind = models.CharField(_("kind of tool"), max_length=10, choices=Kind.choices)
    tool = models.ForeignKey("Tool", models.CASCADE, null=True, blank=True, related_name="reading_limits")
    quantity = models.CharField(_("what is measured"), max_length=80)
    unit = models.CharField(_("unit"), max_length=20)
    geometry = models.CharField(_("geometry"), max_length=40, blank=True, default="")
    limit = NumberField(_("limit"))
    worse = models.CharField(_("which way is worse"), max_length=4, choices=Worse.choices)
    note = models.CharField(_("where it comes from"), max_length=200, blank=True, default="")

    class Meta:
        ordering = ["kind", "quantity", "unit", "geometry", "tool"]
        verbose_name = _("limit of a reading")
        verbose_name_plural = _("limits of readings")
        constraints = [
            models.UniqueConstraint(
                "kind", Upper("quantity"), "unit", Upper("geometry"),
                condition=models.Q(tool=None), name="reading_limit_once_a_kind",
            ),
            models.UniqueConstraint(
                "tool", Upper("quantity"), "unit", Upper("geometry"),
                condition=models.Q(tool__isnull=False), name="reading_limit_once_a_tool",
            ),
            models.CheckConstraint(condition=models.Q(kind__in=Kind.values), name="reading_limit_kind"),
            models.CheckConstraint(condition=models.Q(worse__in=Worse.values), name="reading_limit_worse"),
            models.CheckConstraint(
                condition=~models.Q(quantity="") & ~models.Q(unit=""), name="reading_limit_of_what"
            ),
        ]  # fmt: skip

    def __str__(self) -> str:
        return f"{self.quantity} {self.limit} {self.unit}"
