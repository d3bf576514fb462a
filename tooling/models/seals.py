"""Seals: once a day, a digest over where every chain stands."""

from django.db import models


class Seal(models.Model):
    """Made by the first deed of a new day. Each names the one before, and is named by at most one."""

    day = models.DateField(unique=True)
    made_at = models.DateTimeField()
    previous = models.CharField(max_length=64, unique=True)
    digest = models.CharField(max_length=64, unique=True)

    class Meta:
        ordering = ["day"]

    def __str__(self) -> str:
        return f"{self.day} {self.digest[:12]}"


class SealLine(models.Model):
    """The chain of one tool as it was sealed: so many entries, and the link of the last."""

    seal = models.ForeignKey(Seal, models.PROTECT, related_name="lines", db_index=False)
    tool = models.ForeignKey("Tool", models.PROTECT, related_name="seal_lines", db_index=False)
    count = models.PositiveIntegerField()
    head = models.CharField(max_length=64)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["seal", "tool"], name="seal_line_once"),
            # also the index that answers how far a tool is sealed
            models.UniqueConstraint(fields=["tool", "count"], name="seal_line_tool_count"),
            models.CheckConstraint(condition=models.Q(count__gte=1), name="seal_line_count_range"),
        ]

    def __str__(self) -> str:
        return f"{self.tool} {self.count}"
