"""The shop itself: one row."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shared.environment import is_zone
from tooling.models.shop_hours import check_closed_days, check_ever_open, check_week, days_of, to_days

MOST_HANDS = 1000  # more is a slip of the finger


def check_time_zone(name: str) -> None:
    """Refuse a name that is no time zone."""
    if not is_zone(name):
        message = _now("“%(name)s” is no time zone. Write one as Europe/Berlin or America/New_York.")
        raise ValidationError(message % {"name": name}, code="time_zone")


def check_hands(hands: int) -> None:
    """Refuse a number of people that no shop has at work."""
    if hands < 1:
        raise ValidationError(_now("At least one hand works here. Leave it empty where nobody has counted."))
    if hands > MOST_HANDS:
        message = _now("At most %(most)d: say how many people work on the floor at once.")
        raise ValidationError(message % {"most": MOST_HANDS})


def check_formal_since(formal: bool, since: datetime | None) -> None:
    """Refuse a day since when something is on that is off."""
    if since is not None and not formal:
        raise ValidationError(_now("Formal records are off: leave this empty, or say formal_records yes."))


class Shop(models.Model):
    """Made by the demo, an import or the first lead, never by a migration: an empty database has none."""

    name = models.CharField(_("name"), max_length=200, blank=True, default="")
    time_zone = models.CharField(_("time zone"), max_length=64, validators=[check_time_zone])
    week = models.TextField(_("week"), blank=True, default="", validators=[check_week])
    closed_days = models.TextField(_("closed days"), blank=True, default="", validators=[check_closed_days])
    hands = models.PositiveIntegerField(_("hands"), null=True, blank=True, validators=[MinValueValidator(1)])
    formal_records = models.BooleanField(_("formal records"), default=False)
    # since when they are on: what was brought back before asks for no acceptance
    formal_since = models.DateTimeField(_("formal records since"), null=True, blank=True, editable=False)
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

    def clean(self) -> None:
        """What no setting says by itself: how many hands there can be, and whether the shop opens at all."""
        super().clean()
        wrong = {}
        checks = {
            "hands": lambda: self.hands is not None and check_hands(self.hands),
            "closed_days": lambda: check_ever_open(to_days(self.week), days_of(self.closed_days)),
            "formal_since": lambda: check_formal_since(self.formal_records, self.formal_since),
        }
        for name, check in checks.items():
            try:
                check()
            except ValidationError as said:
                wrong[name] = said
            except ValueError:
                continue  # no dates at all: said of the field itself
        if wrong:
            raise ValidationError(wrong)

    @classmethod
    def current(cls) -> "Shop":
        """The shop; before there is one, an unsaved one in the zone of the settings."""
        return cls.objects.filter(pk=1).first() or cls(time_zone=settings.TIME_ZONE)

    @classmethod
    def lock(cls) -> None:
        """Holds the shop until the transaction ends, in place of a list that may be empty: that has no row to lock."""
        list(cls.objects.select_for_update(no_key=True).filter(pk=1))

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)
