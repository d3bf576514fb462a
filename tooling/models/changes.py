"""Changes of the catalogue: who changed what of a tool or part when, and what stood there before."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class ToolChange(models.Model):
    """One column of a tool, changed. Numbers stand here in mm, kg and °C, other tools and codes by their codes."""

    tool = models.ForeignKey("Tool", models.CASCADE, related_name="changes", db_index=False)
    at = models.DateTimeField(_("when"))
    who = models.ForeignKey("Person", models.PROTECT, related_name="+", db_index=False, verbose_name=_("who"))
    field = models.CharField(max_length=40)
    before = models.TextField(blank=True, default="")
    after = models.TextField(blank=True, default="")

    class Meta:
        ordering = ["-at", "-id"]
        verbose_name = _("change of a tool")
        verbose_name_plural = _("changes of tools")
        indexes = [models.Index(fields=["tool", "at"], name="tool_change_tool_at")]

    def __str__(self) -> str:
        return f"{self.tool} {self.field}"


class PartChange(models.Model):
    """One column of a revision, changed; `field` empty: it was written down. Numbers are in minutes, hours, °C."""

    part = models.ForeignKey("Part", models.CASCADE, related_name="changes", db_index=False)
    revision = models.ForeignKey("PartRevision", models.CASCADE, related_name="changes", db_index=False)
    at = models.DateTimeField(_("when"))
    who = models.ForeignKey("Person", models.PROTECT, related_name="+", db_index=False, verbose_name=_("who"))
    field = models.CharField(max_length=40, blank=True, default="")
    before = models.TextField(blank=True, default="")
    after = models.TextField(blank=True, default="")

    class Meta:
        ordering = ["-at", "-id"]
        verbose_name = _("change of a part")
        verbose_name_plural = _("changes of parts")
        indexes = [
            models.Index(fields=["part", "at"], name="part_change_part_at"),
            models.Index(fields=["revision", "field"], name="part_change_revision"),
        ]

    def __str__(self) -> str:
        return f"{self.part} {self.field}"
