"""Pictures of tools. None is ever deleted: one that is taken down or replaced stays among the old ones."""

from django.db import models
from django.utils.translation import gettext_lazy as _

LONGEST_CAPTION = 200
WHOLE = 1000  # a mark lies so many thousandths of the width from the left, and of the height from the top
_ON = models.Q(taken_down_at=None)
_OF_TOOL = models.Q(entry=None)
# "Not null" is said as well: a check takes what is neither true nor false.
_MARKED = models.Q(mark_x__isnull=False, mark_y__isnull=False, mark_x__lte=WHOLE, mark_y__lte=WHOLE)
DIGEST = 64  # letters of a SHA-256, by which a stored file is found


class PictureQuerySet(models.QuerySet["Picture"]):
    def on(self) -> "PictureQuerySet":
        """Those that are shown, in their order: those of the tool itself, then those given with what was written."""
        last = models.Case(models.When(entry=None, then=0), default=1)
        return self.filter(_ON).order_by(last, "position", "pk")


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
    # What it was given with: a stop, a pull, something for the lead. It never stands for the tool by itself.
    entry = models.ForeignKey("Entry", models.PROTECT, null=True, blank=True, related_name="pictures")
    # Of which defect it is, where it was given with a visit to one.
    defect = models.ForeignKey("Defect", models.PROTECT, null=True, blank=True, related_name="pictures")
    mark_x = models.PositiveSmallIntegerField(_("place of the mark from the left"), null=True, blank=True)
    mark_y = models.PositiveSmallIntegerField(_("place of the mark from the top"), null=True, blank=True)
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
            models.UniqueConstraint(fields=["tool", "large"], condition=_ON & _OF_TOOL, name="picture_once"),
            models.UniqueConstraint(fields=["entry", "large"], condition=_ON & ~_OF_TOOL, name="picture_once_an_entry"),
            models.CheckConstraint(
                condition=models.Q(mark_x=None, mark_y=None) | _MARKED, name="picture_mark_is_on_it"
            ),
            models.CheckConstraint(condition=models.Q(main=False) | _ON, name="picture_main_is_shown"),
        ]

    def __str__(self) -> str:
        return f"{self.tool} {self.pk}"

    @property
    def mark(self) -> tuple[int, int] | None:
        """Where it is, in thousandths of the width and the height; None where nobody has said."""
        return None if self.mark_x is None or self.mark_y is None else (self.mark_x, self.mark_y)

    @property
    def digests(self) -> tuple[str, str, str]:
        """The names of its files, the largest first."""
        return self.large, self.middle, self.small
