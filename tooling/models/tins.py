"""Tins that are open: at a station, or with one person whose phone it is. Their lots go onto the coats."""

from django.db import models
from django.utils.translation import gettext_lazy as _

LONGEST_LOT = 200
_OPEN = models.Q(closed_at=None)


class Stuff(models.TextChoices):
    """What is in a tin: the entries that its lot goes onto."""

    SEALER = "sealer", _("sealer")
    COAT = "coat", _("release coat")
    FILM = "film", _("film")


class TinQuerySet(models.QuerySet["Tin"]):
    def open(self) -> "TinQuerySet":
        """Those that coats are taken from now."""
        return self.filter(_OPEN)


class Tin(models.Model):
    """A tin of one recipe, open somewhere from a moment on. Old entries keep the lot that they were written with."""

    holder = models.ForeignKey("Person", models.PROTECT, related_name="tins", verbose_name=_("open at"))
    recipe = models.ForeignKey("ReleaseSystem", models.PROTECT, related_name="tins", verbose_name=_("release recipe"))
    stuff = models.CharField(_("what is in it"), max_length=10, choices=Stuff.choices)
    lot = models.CharField(_("lot or number"), max_length=LONGEST_LOT)
    expires_on = models.DateField(_("date on the tin"), null=True, blank=True)
    opened_at = models.DateTimeField(_("opened at"))
    opened_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    closed_at = models.DateTimeField(_("closed at"), null=True, blank=True)
    token = models.UUIDField(null=True, blank=True, unique=True)

    objects = TinQuerySet.as_manager()

    class Meta:
        ordering = ["opened_at", "pk"]
        verbose_name = _("tin")
        verbose_name_plural = _("tins")
        constraints = [
            models.UniqueConstraint(fields=["holder", "recipe", "stuff"], condition=_OPEN, name="tin_one_open"),
            models.CheckConstraint(condition=models.Q(stuff__in=Stuff.values), name="tin_stuff_word"),
            models.CheckConstraint(condition=~models.Q(lot=""), name="tin_lot_given"),
            models.CheckConstraint(
                condition=_OPEN | models.Q(closed_at__gte=models.F("opened_at")), name="tin_closed_after_opened"
            ),
        ]

    def __str__(self) -> str:
        return self.lot
