"""The small library of cutters and guide bushings, and what was changed of each."""

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.models.codes import check_code, tidy_code
from tooling.models.fields import Measured, NumberField


class CutterKind(models.TextChoices):
    CUTTER = "cutter", _("cutter")
    BUSHING = "bushing", _("guide bushing")


class CutterState(models.TextChoices):
    HERE = "here", _("here")
    WORN = "worn", _("worn")
    GONE = "gone", _("gone")


class CutterQuerySet(models.QuerySet["Cutter"]):
    def called(self, code: str) -> "CutterQuerySet":
        """The one of that code, in any case."""
        tidy = tidy_code(code)
        return self.none() if "\x00" in tidy else self.filter(code=tidy)


class Cutter(Measured):
    """A cutter, or a bushing that guides one. Sizes are diameters: of a bushing, what runs along the trim mask."""

    code = models.CharField(_("code"), max_length=16, unique=True, validators=[check_code])
    kind = models.CharField(_("kind"), max_length=10, choices=CutterKind.choices)
    nominal_mm = NumberField(_("nominal diameter"), null=True, blank=True)
    measured_mm = NumberField(_("measured diameter"), null=True, blank=True)
    state = models.CharField(_("state"), max_length=10, choices=CutterState.choices, default=CutterState.HERE)
    # A fresh one under the same code: metres are counted from this day on.
    fresh_on = models.DateField(_("fresh since"), null=True, blank=True)
    # The shop's own number: no published one is known that would hold for glass and carbon alike.
    look_after_m = NumberField(_("look at it after metres"), null=True, blank=True)
    note = models.TextField(_("note"), blank=True, default="")

    objects = CutterQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        verbose_name = _("cutter or guide bushing")
        verbose_name_plural = _("cutters and guide bushings")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(code=Upper("code")) & ~models.Q(code=""), name="cutter_code_upper"
            ),
            models.CheckConstraint(condition=models.Q(kind__in=CutterKind.values), name="cutter_kind"),
            models.CheckConstraint(condition=models.Q(state__in=CutterState.values), name="cutter_state"),
            *(
                models.CheckConstraint(condition=models.Q(**{f"{name}__gt": 0}), name=f"cutter_{name}_range")
                for name in ("nominal_mm", "measured_mm", "look_after_m")
            ),
        ]

    def __str__(self) -> str:
        return self.code

    def clean(self) -> None:
        self.code = tidy_code(self.code)
        if Cutter.objects.called(self.code).exclude(pk=self.pk).exists():
            message = _now("%(code)s is the code of another cutter or guide bushing.")
            raise ValidationError({"code": message % {"code": self.code}})


class CutterChange(models.Model):
    """One column of a cutter, changed. `field` empty: it was written down. Numbers are in mm and m."""

    cutter = models.ForeignKey(Cutter, models.CASCADE, related_name="changes", db_index=False)
    at = models.DateTimeField(_("when"))
    who = models.ForeignKey("tooling.Person", models.PROTECT, related_name="+", db_index=False, verbose_name=_("who"))
    field = models.CharField(max_length=40, blank=True, default="")
    before = models.TextField(blank=True, default="")
    after = models.TextField(blank=True, default="")

    class Meta:
        ordering = ["-at", "-id"]
        verbose_name = _("change of a cutter")
        verbose_name_plural = _("changes of cutters")
        indexes = [models.Index(fields=["cutter", "at"], name="cutter_change_cutter_at")]

    def __str__(self) -> str:
        return f"{self.cutter} {self.field}"
