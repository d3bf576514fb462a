"""Places: racks, shelves, rooms, as a tree."""

import enum
from collections.abc import Callable, Hashable
from typing import TypeVar

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.models.codes import check_code, tidy_code
from tooling.models.fields import Measured, NumberField, at_least

Node = TypeVar("Node", bound=Hashable)


def check_no_loop(node: Node, parent: Node | None, parent_of: Callable[[Node], Node | None]) -> None:
    """Refuse a parent from which the way up leads back to the node itself.

    The nodes may be primary keys, or codes of rows that are not stored yet.
    """
    seen: set[Node] = set()
    while parent is not None and parent not in seen:
        if parent == node:
            raise ValidationError(_("A place cannot lie within itself."), code="loop")
        seen.add(parent)
        parent = parent_of(parent)


class PlaceKind(models.TextChoices):
    """What a place is; empty where nobody said. A rack is drawn to its shelves, a shelf to its bays."""

    RACK = "rack", _("rack")
    SHELF = "shelf", _("shelf")
    BAY = "bay", _("bay")
    ROOM = "room", _("room")
    BENCH = "bench", _("bench")
    OVEN = "oven", _("oven")
    POST_CURE = "post_cure", _("post-cure")
    OUTSIDE = "outside", _("out of the house")

    # What stands there stands on the ground.
    FLOORS = enum.nonmember(frozenset({"room", "outside"}))


class PlaceQuerySet(models.QuerySet["Place"]):
    def called(self, code: str) -> "PlaceQuerySet":
        """The place that has or once had that code, in any case."""
        tidy = tidy_code(code)
        if "\x00" in tidy:
            return self.none()
        return self.filter(models.Q(code=tidy) | models.Q(pk__in=PlaceAlias.objects.filter(code=tidy).values("place")))


class Place(Measured):
    code = models.CharField(_("code"), max_length=16, unique=True, validators=[check_code])
    name = models.CharField(_("name"), max_length=200)
    kind = models.CharField(_("kind"), max_length=10, choices=PlaceKind.choices, blank=True, default="")
    parent = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="children", verbose_name=_("within")
    )
    height_mm = NumberField(_("height"), null=True, blank=True)
    max_load_kg = NumberField(_("most load"), null=True, blank=True)

    objects = PlaceQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        verbose_name = _("place")
        verbose_name_plural = _("places")
        constraints = [
            models.CheckConstraint(condition=~models.Q(parent=models.F("id")), name="place_not_in_itself"),
            models.CheckConstraint(condition=~models.Q(code=""), name="place_code_given"),
            models.CheckConstraint(condition=models.Q(kind__in=["", *PlaceKind.values]), name="place_kind"),
            *at_least(0, "height_mm", "max_load_kg", model="place"),
        ]

    def __str__(self) -> str:
        return self.code

    def clean(self) -> None:
        self.code = tidy_code(self.code)
        self._check_code_free()
        if self.pk is None:
            return
        try:
            check_no_loop(self.pk, self.parent_id, self._parent_of)
        except ValidationError as loop:
            raise ValidationError({"parent": loop.messages}) from loop

    def _check_code_free(self) -> None:
        """Refuse a code that another place once had. One that it has is found out by the column itself."""
        other = Place.objects.filter(aliases__code=self.code).exclude(pk=self.pk).first()
        if other is not None:
            message = _now("%(code)s was the code of the place %(other)s.")
            raise ValidationError({"code": message % {"code": self.code, "other": other.code}})

    @staticmethod
    def _parent_of(pk: int) -> int | None:
        return Place.objects.values_list("parent_id", flat=True).get(pk=pk)


class PlaceAlias(models.Model):
    """An older code of a place: what is printed on its tag leads to it for ever."""

    code = models.CharField(_("code"), max_length=16, unique=True)
    place = models.ForeignKey(Place, models.CASCADE, related_name="aliases")

    class Meta:
        ordering = ["code"]
        verbose_name = _("older code of a place")
        verbose_name_plural = _("older codes of places")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(code=Upper("code")) & ~models.Q(code=""), name="place_alias_code_upper"
            ),
        ]

    def __str__(self) -> str:
        return self.code
