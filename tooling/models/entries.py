"""Entries: one fact each in a tool's history, written once and never changed."""

from collections.abc import Iterable
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.calc.entry import Entry as CalcEntry
from tooling.models.parts import as_in_index

# What the rules read out of the payload, beside the columns
_RULED = (
    "cause", "tool_damaged", "surface", "passed", "prepared", "pulls_since_coat", "touch_ups", "total_pulls",
)  # fmt: skip


def check_payload(payload: Any) -> None:
    """Refuse a float: two databases give some of them back in two spellings, and the chain would break."""
    if isinstance(payload, float):
        raise ValidationError(_now("A number is kept as text or as a whole number."), code="float")
    if isinstance(payload, dict):
        payload = list(payload.values())
    if isinstance(payload, list):
        for value in payload:
            check_payload(value)


class EntryQuerySet(models.QuerySet["Entry"]):
    """What stands is asked row by row: with statistics at hand SQLite would read all entries for a join of them."""

    def not_replaced(self) -> "EntryQuerySet":
        """Those that no correction stands for; a void is one of them."""
        return self.filter(~models.Exists(Entry.objects.filter(replaces=models.OuterRef("pk"))))

    def not_void(self) -> "EntryQuerySet":
        """Those that nobody has voided."""
        return self.filter(~models.Exists(Entry.objects.filter(voids=models.OuterRef("pk"))))

    def lately_by(self, person: Any, since: Any) -> "EntryQuerySet":
        """What was written from this sign-in since a moment."""
        return self.filter(recorded_by=person, recorded_at__gt=since)

    def naming(self, numbers: Iterable[str]) -> "EntryQuerySet":
        """Those that name one of these parts, by its number in any case: through the index of parts and times."""
        keys = {key for number in numbers for key in as_in_index(number.strip())}
        return self.alias(part_upper=Upper("part")).filter(part_upper__in=keys, part__gt="")

    def of(self, tools: Any) -> "EntryQuerySet":
        """Of a few rows those of these tools: a sum, so that no database goes through the tools' whole histories."""
        return self.alias(of_tool=models.F("tool_id") + 0).filter(of_tool__in=tools)

    def standing(self) -> "EntryQuerySet":
        """Those that are neither replaced nor voided."""
        return self.not_replaced().not_void()


class Entry(models.Model):
    """Its id is the shop-wide recording number, its number counts within the tool from 1.

    A row is inserted complete, with its link in the tool's chain: the database refuses any change after that.
    """

    tool = models.ForeignKey("Tool", models.PROTECT, related_name="entries", db_index=False)
    number = models.PositiveIntegerField()
    # No database check on the kinds: a later release may know more of them.
    kind = models.CharField(max_length=20)
    at = models.DateTimeField(_("when"))
    recorded_at = models.DateTimeField(_("recorded"))
    count = models.PositiveSmallIntegerField(_("count"), null=True, blank=True)
    area = models.CharField(_("area"), max_length=10, default="whole")
    came_off = models.CharField(_("how it came off"), max_length=10, blank=True, default="")
    film = models.BooleanField(_("film"), null=True, blank=True)
    part = models.CharField(_("part"), max_length=80, blank=True, default="")
    serial = models.TextField(_("serial number"), blank=True, default="")
    release_system = models.CharField(_("release recipe"), max_length=16, blank=True, default="")
    earliest_pull = models.DateTimeField(_("earliest pull"), null=True, blank=True)
    mold = models.ForeignKey("Tool", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    by = models.ForeignKey(
        "Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False, verbose_name=_("by")
    )
    recorded_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+", db_index=False)
    replaces = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="replaced_by", db_index=False
    )
    voids = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="voided_by", db_index=False)
    token = models.UUIDField(null=True, blank=True, unique=True)
    payload = models.JSONField(default=dict, blank=True, validators=[check_payload])
    link = models.CharField(max_length=64)

    objects = EntryQuerySet.as_manager()

    class Meta:
        verbose_name = _("entry")
        verbose_name_plural = _("entries")
        indexes = [
            models.Index(fields=["tool", "at"], name="entry_tool_at"),
            # What made a part: its number in any case.
            models.Index(Upper("part"), "tool", name="entry_part_tool"),
            # What was laid up and pulled of a part since it is wanted.
            models.Index(Upper("part"), "at", condition=models.Q(part__gt=""), name="entry_part_at"),
            # When each trim mask was checked, and which were used lately. One kind each: SQLite does not see that a
            # question is answered by an index of "kind IN (...)".
            models.Index(fields=["tool", "at"], condition=models.Q(kind="check"), name="entry_check_at"),
            models.Index(fields=["at", "tool"], condition=models.Q(kind="used"), name="entry_used_at"),
            # To whom tools were lent lately.
            models.Index(fields=["at"], condition=models.Q(kind="lent"), name="entry_lent_at"),
            # With which instruments the shop measured lately.
            models.Index(fields=["at"], condition=models.Q(kind="reading"), name="entry_reading_at"),
            # isnull, not ~Q: SQLite takes a partial index for "mold = 5" only where it says IS NOT NULL.
            models.Index(fields=["mold", "at"], condition=models.Q(mold__isnull=False), name="entry_mold_at"),
            # What was just written here: asked at each look at a wall or a strip of tape.
            models.Index(fields=["recorded_by", "recorded_at"], name="entry_recorded_by_at"),
            # Asked at each pull with a serial number: was it used for this part before?
            models.Index(fields=["part", "serial"], condition=models.Q(serial__gt=""), name="entry_part_serial"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["tool", "number"], name="entry_tool_number"),
            # An entry is voided or replaced at most once.
            models.UniqueConstraint(fields=["replaces"], name="entry_replaced_once"),
            models.UniqueConstraint(fields=["voids"], name="entry_voided_once"),
            models.CheckConstraint(condition=models.Q(id__gte=1), name="entry_id_range"),
            models.CheckConstraint(condition=models.Q(number__gte=1), name="entry_number_range"),
            models.CheckConstraint(condition=models.Q(count__gte=1, count__lte=500), name="entry_count_range"),
            models.CheckConstraint(condition=~models.Q(kind=""), name="entry_kind_given"),
            models.CheckConstraint(condition=models.Q(area__in=["whole", "flange", "spot"]), name="entry_area_word"),
            models.CheckConstraint(
                condition=models.Q(replaces=None) | models.Q(voids=None), name="entry_replaces_or_voids"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.tool} {self.number}"

    def save(self, *args, **kwargs) -> None:
        kwargs["force_insert"] = True
        super().save(*args, **kwargs)

    def with_earlier(self) -> list["Entry"]:
        """The entry and what it stands for, back to what was written first; tool and hands are read along."""
        found = [self]
        while found[-1].replaces_id is not None:
            if not Entry.replaces.is_cached(found[-1]):
                found[-1].replaces = Entry.objects.select_related("tool", "by").get(pk=found[-1].replaces_id)
            found.append(found[-1].replaces)
        return found

    def as_calc(self) -> CalcEntry:
        """The plain value that the rules read, tools and people by their keys."""
        payload = self.payload
        return CalcEntry(
            id=self.pk,
            tool=self.tool_id,
            kind=self.kind,
            at=self.at,
            recorded_at=self.recorded_at,
            count=self.count,
            area=self.area,
            came_off=self.came_off,
            film=self.film,
            part=self.part,
            serial=self.serial,
            release_system=self.release_system,
            earliest_pull=self.earliest_pull,
            by=self.by_id,
            mold=self.mold_id,
            replaces=self.replaces_id,
            voids=self.voids_id,
            **{name: payload[name] for name in _RULED if name in payload},
        )
