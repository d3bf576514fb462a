"""What stands on the tag of each tool, and why another is wanted; and the prints that were made."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class TagWanted(models.TextChoices):
    """Why a tool wants a tag, the first that is true of it."""

    LOST = "lost", _("lost or unreadable")
    SPOILT = "spoilt", _("did not come out")
    NEW = "new", _("new")
    MOVED = "moved", _("moved")
    CHANGED = "changed", _("changed")


_WANTED = ~models.Q(wanted="")


class TagRun(models.Model):
    """Tags that were printed at one time: by whom, on what, and the file they are in."""

    at = models.DateTimeField(_("when"))
    by = models.ForeignKey("Person", models.PROTECT, related_name="+", verbose_name=_("by"))
    given = models.JSONField(_("how they were asked for"), default=dict)
    count = models.PositiveIntegerField(_("tags"))
    # Its number: jobs stay behind in a backup.
    job = models.PositiveBigIntegerField(_("job that made them"), null=True, blank=True)
    put_back_at = models.DateTimeField(_("did not come out"), null=True, blank=True)
    put_back_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["-pk"]
        verbose_name = _("print of tags")
        verbose_name_plural = _("prints of tags")

    def __str__(self) -> str:
        return f"{self.count} {self.at:%Y-%m-%d}"


class TagPrint(models.Model):
    """The tag of one tool. `said`: what stood on it, by the names in `tag_facts.SAID`; numbers in kg and °C.

    `wanted` is kept by the services of tags, so that what is to print is one look into an index.
    """

    tool = models.OneToOneField("Tool", models.CASCADE, primary_key=True, related_name="tag")
    wanted = models.CharField(_("wanted"), max_length=8, choices=TagWanted.choices, blank=True, default="")
    said = models.JSONField(_("what stands on it"), default=dict, blank=True)
    printed_at = models.DateTimeField(_("printed"), null=True, blank=True)
    printed_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    run = models.ForeignKey(TagRun, models.SET_NULL, null=True, blank=True, related_name="prints")
    spoilt_at = models.DateTimeField(_("did not come out"), null=True, blank=True)
    lost_at = models.DateTimeField(_("lost or unreadable"), null=True, blank=True)
    lost_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    lost_recorded_by = models.ForeignKey(
        "Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False
    )

    class Meta:
        verbose_name = _("tag of a tool")
        verbose_name_plural = _("tags of tools")
        indexes = [models.Index(fields=["tool"], condition=_WANTED, name="tag_print_wanted")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(wanted__in=["", *TagWanted.values]), name="tag_print_wanted_word"
            ),
        ]

    def __str__(self) -> str:
        return str(self.tool)
