"""The summary of each tool: what lists read, so that no page folds a history."""

from django.db import models
from django.db.models.functions import Coalesce

from tooling.models.spans import EVER

# In a mold it lies at no place; else where it was seen last (None: nobody knows), or at home before anybody saw it.
_LIES = models.Case(
    models.When(in_mold_of__isnull=True, seen_at__isnull=False, then=models.F("seen_place")),
    models.When(in_mold_of__isnull=True, then=models.F("home")),
    default=None,
    output_field=models.BigIntegerField(),
)
_ELSEWHERE = models.Q(seen_place__isnull=True) | ~models.Q(seen_place=models.F("home"))
_AWAY = models.Q(
    _ELSEWHERE,
    seen_at__isnull=False, home__isnull=False, laid_up_at__isnull=True, in_mold_of__isnull=True, retired=False,
)  # fmt: skip

# Look-overs are counted of what is not retired.
_LOOKED = models.Q(retired=False)
_BY_PULLS = models.Q(look_left__isnull=False)
_BY_DAYS = models.Q(look_on__isnull=False)


class Summary(models.Model):
    """Where the fold and the chain of one tool stand, and plain columns for lists."""

    tool = models.OneToOneField("Tool", models.CASCADE, primary_key=True, related_name="summary")
    # the chain: how many entries, and the link of the last
    count = models.PositiveIntegerField(default=0)
    head = models.CharField(max_length=64, blank=True, default="")
    # the fold: key of the last entry in it, and the state after it
    last_at = models.DateTimeField(null=True, blank=True)
    last_key = models.BigIntegerField(null=True, blank=True)
    state = models.JSONField(default=dict, blank=True)
    in_mold_of = models.ForeignKey("Tool", models.PROTECT, null=True, blank=True, related_name="installed")
    # for lists
    total_pulls = models.PositiveIntegerField(default=0)
    since_coat = models.PositiveIntegerField(default=0)
    total_coats = models.PositiveIntegerField(default=0)
    last_used_at = models.DateTimeField(null=True, blank=True)
    home = models.ForeignKey("Place", models.PROTECT, null=True, blank=True, related_name="at_home")
    seen_place = models.ForeignKey("Place", models.PROTECT, null=True, blank=True, related_name="seen_here")
    seen_at = models.DateTimeField(null=True, blank=True)
    lent = models.BooleanField(default=False)
    lent_to = models.TextField(blank=True, default="")
    lent_until = models.DateField(null=True, blank=True)
    making = models.BooleanField(default=False)
    step = models.TextField(blank=True, default="")
    # since when it is at that step: more may be written of the step later
    step_at = models.DateTimeField(null=True, blank=True)
    held_since = models.DateTimeField(null=True, blank=True)
    held_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    held_note = models.TextField(blank=True, default="")
    retired = models.BooleanField(default=False)
    # brought back since formal records are on, and accepted by nobody since
    accept_again = models.BooleanField(default=False)
    open_defects = models.PositiveSmallIntegerField(default=0)
    # the next look-over: in so many pulls (below 0: past), on this day; None where none is counted
    look_left = models.IntegerField(null=True, blank=True)
    look_on = models.DateField(null=True, blank=True)
    part = models.CharField(max_length=80, blank=True, default="")
    serial = models.TextField(blank=True, default="")
    laid_up_at = models.DateTimeField(null=True, blank=True)
    laid_up_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)

    # the key of the place where it lies
    lies = models.GeneratedField(
        expression=_LIES, output_field=models.BigIntegerField(null=True), db_persist=True, null=True
    )
    # not home: elsewhere, lent or lost, and not in use: no part in it, not installed, not retired
    away = models.GeneratedField(expression=_AWAY, output_field=models.BooleanField(), db_persist=True)

    # for lists in this order: what was never used stands last, on both databases
    used_at = models.GeneratedField(
        expression=Coalesce("last_used_at", models.Value(EVER)), output_field=models.DateTimeField(), db_persist=True
    )

    class Meta:
        verbose_name_plural = "summaries"
        indexes = [
            models.Index(fields=["-used_at", "tool"], name="summary_used"),
            models.Index(fields=["tool"], condition=models.Q(making=True), name="summary_making"),
            models.Index(fields=["tool"], condition=models.Q(accept_again=True), name="summary_accept_again"),
            models.Index(fields=["seen_at", "tool"], condition=models.Q(away=True), name="summary_away"),
            models.Index(fields=["lent_until"], condition=models.Q(lent=True), name="summary_lent_until"),
            models.Index(fields=["lies"], name="summary_lies"),
            models.Index(fields=["look_left"], condition=_LOOKED & _BY_PULLS, name="summary_look_left"),
            models.Index(fields=["look_on"], condition=_LOOKED & _BY_DAYS, name="summary_look_on"),
        ]

    def __str__(self) -> str:
        return str(self.tool)
