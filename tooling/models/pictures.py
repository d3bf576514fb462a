"""Pictures of tools. None is ever deleted: one that is taken down or replaced stays among the old ones."""

from django.db import models
from django.utils.translation import gettext_lazy as _

LONGEST_CAPTION = 200
_ON = models.Q(taken_down_at=None)
DIGEST = 64  # letters of a SHA-256, by which a stored file is found


class PictureQuerySet(models.QuerySet["Picture"]):
    def on(self) -> "PictureQuerySet":
        """Those that are shown, in their order."""
        return self.filter(_ON).order_by("position", "pk")


class Picture(models.Model):
    """One picture of a tool: three files, each stored under its SHA-256."""

    tool = models.ForeignKey("Tool", models.PROTECT, related_name="pictures")
    large = models.CharField(_("largest size"), max_length=DIGEST)
    middle = models.CharField(_("middle size"), max_length=DIGEST)
    small = models.CharField(_("small size"), max_length=DIGEST)
    width = models.PositiveIntegerField(_("width"))
    height = models.PositiveIntegerField(_("height"))
    caption = models.CharField(_("caption"), max_length=LONGEST_CAPTION, blank=True, default="")
    position = models.PositiveIntegerField(_("place in the order"))
    main = models.BooleanField(_("main picture"), default=False)
    added_at = models.DateTimeField(_("added at"))
    added_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    # Who was signed in: on a shared tablet the station, and the hands are beside it.
    recorded_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")
    replaces = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="replaced_by")
    taken_down_at = models.DateTimeField(_("taken down at"), null=True, blank=True)
    taken_down_by = models.ForeignKey("Person", models.PROTECT, null=True, blank=True, related_name="+")

    objects = PictureQuerySet.as_manager()

    class Meta:
        ordering = ["position", "pk"]
        verbose_name = _("picture")
        verbose_name_plural = _("pictures")
        constraints = [
            models.UniqueConstraint(fields=["tool"], condition=models.Q(main=True), name="picture_one_main"),
            models.UniqueConstraint(fields=["tool", "large"], condition=_ON, name="picture_once"),
            models.CheckConstraint(condition=models.Q(main=False) | _ON, name="picture_main_is_shown"),
        ]

    def __str__(self) -> str:
        return f"{self.tool} {self.pk}"

    @property
    def digests(self) -> tuple[str, str, str]:
        """The names of its files, the largest first."""
        return self.large, self.middle, self.small
