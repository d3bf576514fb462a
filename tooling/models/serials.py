"""Serial numbers, one a row: an entry may name several in one field, and each must be found without reading all."""

import re

from django.db import models
from django.utils.translation import gettext_lazy as _

# What is compared of a number: longer ones are told apart by the entry itself.
LONGEST_KEY = 80
# How serial numbers stand beside each other in one field.
_BETWEEN = re.compile(r"[,;\n]+")
_SIGNS = re.compile(r"[\W_]+")


def split(text: str) -> list[str]:
    """The single serial numbers of a field."""
    return [one for one in (" ".join(one.split()) for one in _BETWEEN.split(text.replace("\0", ""))) if one]


def whole_key(text: str) -> str:
    """What a number or a part is known by: in capitals, with single spaces."""
    return " ".join(text.replace("\0", "").split()).upper()


def key_of(text: str) -> str:
    """As much of it as is stored."""
    return whole_key(text)[:LONGEST_KEY]


def bare_of(text: str) -> str:
    """A number without what is left out or mistaken most: signs, zeros in front, O for 0."""
    return _SIGNS.sub("", whole_key(text)).replace("O", "0").lstrip("0")[:LONGEST_KEY]


class SerialNumber(models.Model):
    """One serial number that an entry names, void or not. It follows from the entry and is written with it."""

    entry = models.ForeignKey("Entry", models.PROTECT, related_name="serial_numbers", db_index=False)
    key = models.CharField(_("serial number"), max_length=LONGEST_KEY)
    part = models.CharField(_("part"), max_length=LONGEST_KEY, blank=True, default="")
    bare = models.CharField(max_length=LONGEST_KEY, blank=True, default="")

    class Meta:
        verbose_name = _("serial number")
        verbose_name_plural = _("serial numbers")
        constraints = [models.UniqueConstraint(fields=["entry", "key"], name="serial_once_an_entry")]
        indexes = [
            models.Index(fields=["key", "part", "entry"], name="serial_key_part"),
            models.Index(fields=["bare", "key"], name="serial_bare"),
        ]

    def __str__(self) -> str:
        return self.key
