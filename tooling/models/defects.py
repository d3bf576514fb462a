"""Defects of tools, each followed from visit to visit. What an entry says of one stands in the entry itself."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.calc.defect_lines import DID, KINDS, WHOLE
from tooling.models.entries import Entry

_ON_PICTURE = models.Q(x__isnull=False, y__isnull=False, x__lte=WHOLE, y__lte=WHOLE)


class Defect(models.Model):
    """One defect of one tool: what it is and where, as it was found. It follows from the entry that found it.

    `picture`: the one of the tool that x and y (thousandths, from the left and the top) are on.
    """

    tool = models.ForeignKey("Tool", models.PROTECT, related_name="defects")
    number = models.PositiveIntegerField(_("number"))
    kind = models.CharField(_("kind"), max_length=20)
    place = models.CharField(_("where"), max_length=20, blank=True, default="")
    picture = models.ForeignKey("Picture", models.PROTECT, null=True, blank=True, related_name="+")
    x = models.PositiveSmallIntegerField(null=True, blank=True)
    y = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["tool", "number"]
        verbose_name = _("defect")
        verbose_name_plural = _("defects")
        constraints = [
            models.UniqueConstraint(fields=["tool", "number"], name="defect_number_once"),
            models.CheckConstraint(condition=models.Q(kind__in=KINDS), name="defect_kind"),
            models.CheckConstraint(condition=models.Q(x=None, y=None) | _ON_PICTURE, name="defect_on_its_picture"),
        ]

    def __str__(self) -> str:
        return f"{self.tool} {self.number}"


class DefectMarkQuerySet(models.QuerySet["DefectMark"]):
    def standing(self) -> "DefectMarkQuerySet":
        """Those whose entry is neither void nor replaced."""
        void, replaced = (Entry.objects.filter(**{name: models.OuterRef("entry")}) for name in ("voids", "replaces"))
        return self.filter(~models.Exists(void), ~models.Exists(replaced))


class DefectMark(models.Model):
    """What one entry says of one defect. It follows from the entry and is written with it."""

    defect = models.ForeignKey(Defect, models.PROTECT, related_name="marks", db_index=False)
    entry = models.ForeignKey("Entry", models.PROTECT, related_name="defect_marks")
    did = models.CharField(max_length=10)
    size_mm = models.DecimalField(_("size"), max_digits=12, decimal_places=6, null=True, blank=True)
    words = models.TextField(blank=True, default="")

    objects = DefectMarkQuerySet.as_manager()

    class Meta:
        verbose_name = _("visit to a defect")
        verbose_name_plural = _("visits to defects")
        constraints = [
            models.UniqueConstraint(fields=["defect", "entry"], name="defect_mark_once_an_entry"),
            models.CheckConstraint(condition=models.Q(did__in=DID), name="defect_mark_did"),
        ]

    def __str__(self) -> str:
        return f"{self.defect_id} {self.did}"
