"""The shop itself: one row."""

import datetime
import re
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.environment import is_zone

_DAYS = "mon|tue|wed|thu|fri|sat|sun"
_TIME = r"([01]?\d|2[0-3]):[0-5]\d|24:00"
_WINDOW = re.compile(rf"(?:{_DAYS})(?:\s*-\s*(?:{_DAYS}))?\s+(?:{_TIME})\s*-\s*(?:{_TIME})", re.IGNORECASE)


def check_time_zone(name: str) -> None:
    """Refuse a name that is no time zone."""
    if not is_zone(name):
        message = _now("“%(name)s” is no time zone. Write one as Europe/Berlin or America/New_York.")
        raise ValidationError(message % {"name": name}, code="time_zone")


def check_week(text: str) -> None:
    """Refuse shop hours that are not windows of days and times, such as Mon-Fri 08:00-17:00."""
    for window in filter(None, (piece.strip() for piece in re.split(r"[,;]", text))):
        if not _WINDOW.fullmatch(window):
            message = _now("“%(window)s” is no shop hours. Write them as Mon-Thu 07:00-16:00, Fri 07:00-12:00.")
            raise ValidationError(message % {"window": window}, code="week")


def check_closed_days(text: str) -> None:
    """Refuse what is not a list of ISO dates."""
    for day in filter(None, (piece.strip() for piece in text.split(","))):
        try:
            datetime.date.fromisoformat(day)
        except ValueError as bad:
            message = _now("“%(day)s” is no date. Write days as 2026-12-24, with commas between.") % {"day": day}
            raise ValidationError(message, code="closed_days") from bad


class Shop(models.Model):
    """Made by the demo, an import or the first lead, never by a migration: an empty database has none."""

    name = models.CharField(_("name"), max_length=200, blank=True, default="")
    time_zone = models.CharField(_("time zone"), max_length=64, validators=[check_time_zone])
    week = models.TextField(_("week"), blank=True, default="", validators=[check_week])
    closed_days = models.TextField(_("closed days"), blank=True, default="", validators=[check_closed_days])
    hands = models.PositiveIntegerField(_("hands"), null=True, blank=True, validators=[MinValueValidator(1)])
    formal_records = models.BooleanField(_("formal records"), default=False)
    retention_years = models.PositiveIntegerField(_("years to keep"), null=True, blank=True)
    # 0: the board never says that a backup is wanted.
    backup_days = models.PositiveIntegerField(_("days between backups"), default=7)
    backed_up_at = models.DateTimeField(_("last backup"), null=True, blank=True, editable=False)
    # Set by the demo alone: no sheet carries it, so that a shop that came out of the demo by export is one of its own.
    demo_since = models.DateTimeField(_("a demo since"), null=True, blank=True, editable=False)

    # The numeric address that a lead said is reserved for this machine: only for exactly this one tags are printed.
    tag_address = models.CharField(_("reserved address"), max_length=200, blank=True, default="", editable=False)
    tag_address_at = models.DateTimeField(_("reserved, said at"), null=True, blank=True, editable=False)
    tag_address_by = models.CharField(_("reserved, said by"), max_length=80, blank=True, default="", editable=False)

    class Meta:
        verbose_name = _("shop")
        verbose_name_plural = _("shop")
        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="shop_is_one"),
            models.CheckConstraint(condition=models.Q(hands__gte=1), name="shop_hands_range"),
        ]

    def __str__(self) -> str:
        return self.name

    def save(self, *args, **kwargs) -> None:
        self.pk = 1
        super().save(*args, **kwargs)

    @classmethod
    def current(cls) -> "Shop":
        """The shop; before there is one, an unsaved one in the zone of the settings."""
        return cls.objects.filter(pk=1).first() or cls(time_zone=settings.TIME_ZONE)

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)
