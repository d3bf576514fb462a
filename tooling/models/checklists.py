"""Checklists of the shop: what is looked at on a tool of a kind. A version is never changed, a further one is made."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.models.tools import Kind


class Purpose(models.TextChoices):
    """For which look it is: one between uses, or the one before the first."""

    LOOK_OVER = "look_over", _("look-over")
    ACCEPTANCE = "acceptance", _("acceptance")


class Checklist(models.Model):
    """One version of the checklist of a kind, valid from an instant until the next one begins.

    A version without items says that nothing is asked from then on.
    """

    kind = models.CharField(_("kind of tool"), max_length=10, choices=Kind.choices)
    purpose = models.CharField(_("for"), max_length=10, choices=Purpose.choices)
    version = models.PositiveIntegerField(_("version"))
    valid_from = models.DateTimeField(_("valid from"))
    made_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["kind", "purpose", "version"]
        verbose_name = _("checklist")
        verbose_name_plural = _("checklists")
        constraints = [
            models.UniqueConstraint(fields=["kind", "purpose", "version"], name="checklist_version_once"),
            models.CheckConstraint(condition=models.Q(kind__in=Kind.values), name="checklist_kind"),
            models.CheckConstraint(condition=models.Q(purpose__in=Purpose.values), name="checklist_purpose"),
            models.CheckConstraint(condition=models.Q(version__gte=1), name="checklist_version_range"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.purpose} {self.version}"


class ChecklistItem(models.Model):
    """One line of it. With a `quantity` a value is asked as well, in its unit, at so many spots."""

    checklist = models.ForeignKey(Checklist, models.CASCADE, related_name="items")
    order = models.PositiveIntegerField(_("order"))
    words = models.CharField(_("what is looked at"), max_length=200)
    quantity = models.CharField(_("what is measured"), max_length=80, blank=True, default="")
    unit = models.CharField(_("unit"), max_length=20, blank=True, default="")
    geometry = models.CharField(_("geometry"), max_length=40, blank=True, default="")
    spots = models.PositiveSmallIntegerField(_("spots"), default=1)

    class Meta:
        ordering = ["checklist", "order"]
        verbose_name = _("line of a checklist")
        verbose_name_plural = _("lines of checklists")
        constraints = [
            models.UniqueConstraint(fields=["checklist", "order"], name="checklist_item_order"),
            models.CheckConstraint(condition=~models.Q(words=""), name="checklist_item_said"),
            models.CheckConstraint(condition=models.Q(spots__gte=1, spots__lte=20), name="checklist_item_spots_range"),
        ]

    def __str__(self) -> str:
        return self.words
