"""People: those who sign in, and those who are only named."""

import enum
import unicodedata

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext_lazy as _

from shared.units import METRIC, US

LONGEST_NAME = 80


class Role(models.TextChoices):
    """What a person who signs in may do. A person with no role is only named: no sign-in."""

    READER = "reader", _("reader")
    HAND = "hand", _("hand")
    LEAD = "lead", _("lead")
    STATION = "station", _("station")

    CAN_LOG = enum.nonmember(frozenset({"hand", "lead", "station"}))
    CAN_LEAD = enum.nonmember(frozenset({"lead"}))
    SHARED = enum.nonmember(frozenset({"station"}))


class Units(models.TextChoices):
    """In which units a person reads and types."""

    METRIC = METRIC, _("metric: mm, kg, °C")
    US = US, _("US: inch, pound, °F")


def tidy_name(name: str) -> str:
    """A name as it is stored and shown: composed letters, single spaces."""
    return " ".join(unicodedata.normalize("NFC", name).split())


def name_key(name: str) -> str:
    """What two spellings of one name have in common."""
    return tidy_name(tidy_name(name).casefold())


class PersonManager(BaseUserManager["Person"]):
    def get_by_natural_key(self, name: str | None) -> "Person":
        """Sign-in asks here: case and spaces do not matter."""
        return self.get(name_key=name_key(name or ""))

    def create_person(self, name: str, role: str = "", password: str | None = None) -> "Person":
        """A new person, checked. Without a role or password there is no way to sign in."""
        person = self.model(name=tidy_name(name), role=role)
        person.set_password(password if role else None)
        person.full_clean()
        person.save(using=self._db)
        return person

    def create_superuser(self, name: str, password: str | None = None) -> "Person":
        """What Django's own command makes: a lead, the role that may do everything."""
        return self.create_person(name, Role.LEAD, password)

    def named(self, name: str) -> "Person":
        """The person of that name; an unknown one is made, without sign-in."""
        found = self.filter(name_key=name_key(name)).first()
        if found is not None:
            return found
        new = self.model(name=tidy_name(name))
        new.set_unusable_password()
        new.clean_fields()
        # two writers may name the same new person at once
        defaults = {"name": new.name, "password": new.password}
        return self.get_or_create(name_key=name_key(name), defaults=defaults)[0]


class Person(AbstractBaseUser):
    """One person, or one shared station."""

    name = models.CharField(_("name"), max_length=LONGEST_NAME, unique=True)
    # casefold makes some letters two or three
    name_key = models.CharField(max_length=3 * LONGEST_NAME, unique=True, blank=True, editable=False)
    role = models.CharField(_("role"), max_length=10, choices=Role.choices, blank=True, default="")
    units = models.CharField(_("units"), max_length=6, choices=Units.choices, default=Units.METRIC)
    is_active = models.BooleanField(_("active"), default=True)

    USERNAME_FIELD = "name"
    REQUIRED_FIELDS = []

    objects = PersonManager()

    class Meta:
        ordering = ["name_key"]
        verbose_name = _("person")
        verbose_name_plural = _("people")
        constraints = [
            models.CheckConstraint(condition=~models.Q(name=""), name="person_named"),
            models.CheckConstraint(condition=models.Q(role__in=["", *Role.values]), name="person_role"),
            models.CheckConstraint(condition=models.Q(units__in=Units.values), name="person_units"),
        ]

    def __str__(self) -> str:
        return self.name

    def save(self, *args, **kwargs) -> None:
        self.name = tidy_name(self.name)
        self.name_key = name_key(self.name)
        super().save(*args, **kwargs)

    def clean(self) -> None:
        self.name = tidy_name(self.name)
        self.name_key = name_key(self.name)
        if not self.name:
            raise ValidationError({"name": _("A person needs a name.")})

    @property
    def can_sign_in(self) -> bool:
        return self.is_active and self.role != "" and self.has_usable_password()

    @property
    def can_log(self) -> bool:
        return self.role in Role.CAN_LOG

    @property
    def can_lead(self) -> bool:
        return self.role in Role.CAN_LEAD

    @property
    def is_station(self) -> bool:
        return self.role in Role.SHARED
