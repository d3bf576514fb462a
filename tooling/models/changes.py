"""Changes of the catalogue: who changed what of a tool when, and what stood there before."""

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
