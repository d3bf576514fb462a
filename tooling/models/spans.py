"""Spans: the future of each tool's state, laid down by every write, so that the board is true without a clock."""

import datetime

from django.db import models

# Before all times of a shop, where a group of the board goes by a time that nobody has said.
EVER = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)


class SpanQuerySet(models.QuerySet["Span"]):
    def at(self, at: datetime.datetime) -> "SpanQuerySet":
        """What holds at that moment; true from the last write on, a question about the past folds."""
        still = models.Q(until_at=None) | models.Q(until_at__gt=at)
        return self.filter(still, from_at__lte=at)


class Span(models.Model):
    """One tool is in one state from (included) until (not included)."""

    tool = models.ForeignKey("Tool", models.CASCADE, related_name="spans", db_index=False)
    rank = models.PositiveSmallIntegerField()
    status = models.CharField(max_length=20)
    from_at = models.DateTimeField()
    until_at = models.DateTimeField(null=True, blank=True)
    pulls_left = models.PositiveIntegerField(default=0)
    ready_at = models.DateTimeField(null=True, blank=True)
    detail = models.JSONField(default=dict, blank=True)
    # where the tool stands on the morning board meanwhile, and what that group goes by
    group = models.CharField(max_length=8, blank=True, default="")
    group_at = models.DateTimeField(default=EVER)

    objects = SpanQuerySet.as_manager()

    class Meta:
        indexes = [
            models.Index(fields=["rank", "from_at", "until_at"], name="span_board"),
            # A page of tools by their pulls left, and which span of each holds now.
            models.Index(fields=["-pulls_left", "tool", "from_at", "until_at"], name="span_left"),
            # All that the board asks of a group, so that no row is read besides.
            models.Index(fields=["group", "group_at", "from_at", "until_at", "tool"], name="span_group"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["tool", "from_at"], name="span_tool_from"),
            models.UniqueConstraint(fields=["tool"], condition=models.Q(until_at=None), name="span_tool_one_open"),
            models.CheckConstraint(condition=models.Q(until_at__gt=models.F("from_at")), name="span_forward"),
        ]

    def __str__(self) -> str:
        return f"{self.tool} {self.status}"
