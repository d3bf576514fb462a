"""Tool sets: the tools that one revision of a part needs together."""

import enum

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.models.tools import Kind


class SetRole(models.TextChoices):
    """What a line of a set is for. In this order they are said."""

    MOLD = "mold", _("mold")
    INSERT = "insert", _("mold insert")
    TRIM_MASK = "trim_mask", _("trim mask")
    HARDWARE = "hardware", _("hardware")

    # The kind of tool that each takes; hardware is words.
    TAKES = enum.nonmember({"mold": Kind.MOLD, "insert": Kind.INSERT, "trim_mask": Kind.TRIM_MASK})


class SetLineQuerySet(models.QuerySet["SetLine"]):
    def in_order(self) -> "SetLineQuerySet":
        """Molds, mold inserts, trim masks, hardware; each by its number, then as it was put in."""
        roles = [models.When(role=role, then=place) for place, role in enumerate(SetRole.values)]
        return self.order_by(models.Case(*roles), models.F("order").asc(nulls_last=True), "pk")


class SetLine(models.Model):
    """One tool of a set, or hardware in words. Lines of one role with the same word are alternatives."""

    revision = models.ForeignKey(
        "PartRevision", models.CASCADE, related_name="tool_set", db_index=False, verbose_name=_("part revision")
    )
    role = models.CharField(_("role"), max_length=10, choices=SetRole.choices)
    tool = models.ForeignKey(
        "Tool", models.PROTECT, null=True, blank=True, related_name="in_sets", verbose_name=_("tool")
    )
    item = models.CharField(_("hardware"), max_length=200, blank=True, default="")
    order = models.PositiveIntegerField(_("order"), null=True, blank=True, validators=[MinValueValidator(1)])
    required = models.BooleanField(_("required"), default=True)
    alternative = models.CharField(_("alternatives"), max_length=40, blank=True, default="")
    # A further revision takes the tools over; whether they are right for it somebody has to say.
    confirmed = models.BooleanField(_("confirmed"), default=True)

    objects = SetLineQuerySet.as_manager()

    class Meta:
        ordering = ["revision", "id"]
        verbose_name = _("line of a tool set")
        verbose_name_plural = _("tool sets")
        constraints = [
            models.CheckConstraint(condition=models.Q(role__in=SetRole.values), name="set_line_role"),
            models.CheckConstraint(
                condition=models.Q(role="hardware", tool=None) & ~models.Q(item="")
                | ~models.Q(role="hardware") & models.Q(tool__isnull=False, item=""),
                name="set_line_tool_or_words",
            ),
            models.CheckConstraint(condition=models.Q(order__gte=1), name="set_line_order_range"),
            models.UniqueConstraint(
                fields=["revision", "tool"],
                name="set_line_tool_once",
                violation_error_message=_("This tool is in the set already."),
            ),
            models.UniqueConstraint(
                fields=["revision", "item"],
                condition=~models.Q(item=""),
                name="set_line_item_once",
                violation_error_message=_("This hardware is in the set already."),
            ),
        ]

    def __str__(self) -> str:
        return self.what

    @property
    def what(self) -> str:
        """The tool's code, or the words."""
        return self.tool.code if self.tool is not None else self.item
