"""Counts of places: what was met there, what was not, and what nobody knew."""

from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext_lazy as _

from tooling.models.entries import Entry

_OPEN = models.Q(ended_at=None)


class PlaceCountQuerySet(models.QuerySet["PlaceCount"]):
    def going_on(self) -> "PlaceCountQuerySet":
        """Those that nobody has ended."""
        return self.filter(_OPEN)


class PlaceCount(models.Model):
    """One count of a place and all that lies within it. Its number is known to the entries that it wrote.

    `ended_at` without `given_up`: it is done, and what was not met is said to be missing. Given up: nothing is said.
    """

    number = models.PositiveIntegerField(_("number"), unique=True)
    place = models.ForeignKey("Place", models.PROTECT, related_name="counts", verbose_name=_("place"))
    begun_at = models.DateTimeField(_("begun"))
    begun_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    ended_at = models.DateTimeField(_("ended"), null=True, blank=True)
    ended_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    given_up = models.BooleanField(_("given up"), default=False)
    token = models.UUIDField(null=True, blank=True, unique=True, editable=False)

    objects = PlaceCountQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        verbose_name = _("count of a place")
        verbose_name_plural = _("counts of places")
        constraints = [
            models.UniqueConstraint(
                fields=["place"],
                condition=_OPEN,
                name="place_count_one_open",
                violation_error_message=_("This place is being counted already."),
            ),
            models.CheckConstraint(
                condition=_OPEN | models.Q(ended_at__gte=models.F("begun_at")), name="place_count_ended_after"
            ),
            models.CheckConstraint(condition=models.Q(given_up=False) | ~_OPEN, name="place_count_given_up_ended"),
        ]

    def __str__(self) -> str:
        return f"{self.place} {self.number}"


class Found(models.TextChoices):
    """What a count found of a tool, or of a tag that is none of ours."""

    SEEN = "seen", _("seen")
    MISSING = "missing", _("not met")
    UNKNOWN = "unknown", _("not known")


class CountMarkQuerySet(models.QuerySet["CountMark"]):
    def standing(self) -> "CountMarkQuerySet":
        """Those whose entry nobody has voided; what was corrected has taken its line along."""
        void, replaced = (Entry.objects.filter(**{name: models.OuterRef("entry")}) for name in ("voids", "replaces"))
        return self.filter(~models.Exists(void), ~models.Exists(replaced))


class CountMark(models.Model):
    """One line of a count: a tool with the entry that says so, or the text of a tag that nobody knew.

    A mark whose entry is void counts no more. `settled`: what was not known is a tool after all, or was put aside.
    """

    count = models.ForeignKey(PlaceCount, models.CASCADE, related_name="marks", db_index=False)
    found = models.CharField(_("found"), max_length=10, choices=Found.choices)
    tool = models.ForeignKey("Tool", models.PROTECT, null=True, blank=True, related_name="count_marks")
    entry = models.OneToOneField("Entry", models.PROTECT, null=True, blank=True, related_name="count_mark")
    text = models.CharField(_("as it was scanned"), max_length=300, blank=True, default="")
    at = models.DateTimeField(_("when"))
    by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    settled = models.BooleanField(_("settled"), default=False)

    objects = CountMarkQuerySet.as_manager()

    class Meta:
        ordering = ["at", "id"]
        verbose_name = _("line of a count")
        verbose_name_plural = _("lines of counts")
        indexes = [models.Index(fields=["count", "tool"], name="count_mark_count_tool")]
        constraints = [
            models.UniqueConstraint(
                "count", Upper("text"), condition=models.Q(found="unknown"), name="count_mark_text_once"
            ),
            models.CheckConstraint(condition=models.Q(found__in=Found.values), name="count_mark_found"),
            models.CheckConstraint(
                condition=models.Q(found="unknown", tool=None) & ~models.Q(text="")
                | models.Q(found__in=["seen", "missing"], tool__isnull=False),
                name="count_mark_of_what",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.count_id} {self.found} {self.text or self.tool_id}"
