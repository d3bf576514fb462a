"""How warm the shop was, as somebody read it off."""

from decimal import Decimal

from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.models.fields import Measured, NumberField

# Beyond these nobody lays up: it is a slip of typing, or the other unit (common practice, no source).
LEAST_C, MOST_C = Decimal(-20), Decimal(60)


class TemperatureQuerySet(models.QuerySet["Temperature"]):
    def standing(self) -> "TemperatureQuerySet":
        """Those that were not struck out."""
        return self.filter(struck_at=None)

    def newest_first(self) -> "TemperatureQuerySet":
        """Of two for one moment the one that was written later corrects the other."""
        return self.order_by("-at", "-recorded_at", "-pk")


class Temperature(Measured):
    """One measurement. Never changed: another corrects it, or it is struck out with a reason and stays to be read.

    `asked`: what the form said that brought it, so that the same form sent twice writes one.
    """

    at = models.DateTimeField(_("when"))
    value_c = NumberField(_("shop temperature"))
    by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    recorded_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    recorded_at = models.DateTimeField(_("written down"))
    note = models.TextField(_("note"), blank=True, default="")
    token = models.UUIDField(null=True, blank=True, unique=True, editable=False)
    asked = models.CharField(max_length=16, blank=True, default="", editable=False)
    struck_at = models.DateTimeField(_("struck out"), null=True, blank=True)
    struck_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    struck_why = models.TextField(_("why it was struck out"), blank=True, default="")

    objects = TemperatureQuerySet.as_manager()

    class Meta:
        verbose_name = _("shop temperature")
        verbose_name_plural = _("shop temperatures")
        indexes = [models.Index(fields=["at"], name="temperature_at")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(value_c__gte=LEAST_C, value_c__lte=MOST_C), name="temperature_value_c_range"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.value_c} °C {self.at:%Y-%m-%d %H:%M}"
