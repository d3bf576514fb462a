"""The steps in which a shop builds a tool of a kind, in their order."""

from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext_lazy as _

from tooling.models.tools import Kind

# A step may be an entry of release or of use that is written anyway: it is done when that entry stands.
BY_ENTRY = ("sealer", "coat", "film", "lay_up", "pull", "reading")


class MakingStep(models.Model):
    """One step of a kind. The last is no row: a tool that is through all of them is accepted.

    `by_entry`: sealing and waxing a plug are its first release entries, so such a step is logged as that entry.
    """

    kind = models.CharField(_("kind of tool"), max_length=10, choices=Kind.choices)
    order = models.PositiveIntegerField(_("order"))
    name = models.CharField(_("step"), max_length=80)
    by_entry = models.CharField(_("logged as"), max_length=20, blank=True, default="")
    note = models.CharField(_("what to mind"), max_length=200, blank=True, default="")

    class Meta:
        ordering = ["kind", "order", "id"]
        verbose_name = _("step of the making")
        verbose_name_plural = _("steps of the making")
        constraints = [
            models.UniqueConstraint("kind", Upper("name"), name="making_step_once"),
            models.CheckConstraint(condition=models.Q(kind__in=Kind.values), name="making_step_kind"),
            models.CheckConstraint(condition=~models.Q(name=""), name="making_step_named"),
            models.CheckConstraint(condition=models.Q(by_entry__in=["", *BY_ENTRY]), name="making_step_by_entry"),
        ]

    def __str__(self) -> str:
        return self.name
