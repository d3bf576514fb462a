"""How people come in besides a password: a link that works once, and a PIN at a shared tablet. Both only as hashes."""

from datetime import datetime

from django.db import models
from django.utils.translation import gettext_lazy as _


class Invitation(models.Model):
    """A link that was given to one person. Of a person's links at most one is open: a new one ends the others."""

    person = models.ForeignKey("Person", models.CASCADE, related_name="invitations")
    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(_("made at"))
    made_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    expires_at = models.DateTimeField(_("works until"))
    used_at = models.DateTimeField(_("used at"), null=True, blank=True)
    withdrawn_at = models.DateTimeField(_("withdrawn at"), null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]
        verbose_name = _("invitation")
        verbose_name_plural = _("invitations")
        constraints = [
            models.UniqueConstraint(
                fields=["person"], condition=models.Q(used_at=None, withdrawn_at=None), name="invitation_one_open"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} {self.made_at:%Y-%m-%d}"

    def is_open(self, at: datetime) -> bool:
        """Whether it still lets somebody in."""
        return self.used_at is None and self.withdrawn_at is None and at < self.expires_at


class Pin(models.Model):
    """The PIN of a person, and how often in a row a wrong one was typed for them."""

    person = models.OneToOneField("Person", models.CASCADE, primary_key=True, related_name="pin")
    secret = models.CharField(max_length=128)
    wrong = models.PositiveIntegerField(default=0)
    wrong_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        verbose_name = _("PIN")
        verbose_name_plural = _("PINs")

    def __str__(self) -> str:
        return str(self.person)


class Shift(models.Model):
    """A person whose PIN was right at a station: until then a name is enough there. Kept when it is over."""

    station = models.ForeignKey("Person", models.CASCADE, related_name="+")
    person = models.ForeignKey("Person", models.CASCADE, related_name="shifts")
    until = models.DateTimeField(_("until"))

    class Meta:
        verbose_name = _("shift")
        verbose_name_plural = _("shifts")
        constraints = [models.UniqueConstraint(fields=["station", "person"], name="shift_one_each")]

    def __str__(self) -> str:
        return f"{self.person} · {self.station}"
