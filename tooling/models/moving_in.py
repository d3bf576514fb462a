"""A shop's own sheets on their way in: what was uploaded, and which of their columns and words are which of ours."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class MovingIn(models.Model):
    """An upload that waits to be matched, tried and brought in. Its files stay until somebody drops it."""

    name = models.CharField(_("file"), max_length=200)
    added_at = models.DateTimeField(_("uploaded at"))
    added_by = models.ForeignKey("Person", models.PROTECT, related_name="+", verbose_name=_("uploaded by"))
    # rows of the column names by sheet, how days are written, and what else was said of this upload alone
    given = models.JSONField(_("what was said of it"), default=dict, blank=True)
    report = models.JSONField(_("what the last try found"), null=True, blank=True)
    tried_at = models.DateTimeField(_("tried at"), null=True, blank=True)
    brought_in_at = models.DateTimeField(_("brought in at"), null=True, blank=True)
    job = models.ForeignKey("Job", models.SET_NULL, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["-pk"]
        verbose_name = _("upload of sheets")
        verbose_name_plural = _("uploads of sheets")

    def __str__(self) -> str:
        return self.name


class ColumnMatch(models.Model):
    """What a sheet or a column of the shop's is among ours, remembered for the next time.

    Theirs are kept folded. Without a column of theirs it says which of our sheets theirs is; an empty one of ours means
    that theirs is left out.
    """

    their_sheet = models.CharField(max_length=200)
    their_column = models.CharField(max_length=200, blank=True, default="")
    sheet = models.CharField(max_length=40, blank=True, default="")
    column = models.CharField(max_length=40, blank=True, default="")
    # of a sheet of tools in which no column says it: what all of them are
    kind = models.CharField(max_length=10, blank=True, default="")

    class Meta:
        verbose_name = _("matched column")
        verbose_name_plural = _("matched columns")
        constraints = [
            models.UniqueConstraint(fields=["their_sheet", "their_column"], name="column_match_once"),
        ]

    def __str__(self) -> str:
        return f"{self.their_sheet} {self.their_column}: {self.sheet} {self.column}"


class WordMatch(models.Model):
    """What a word of the shop's is among those of one of our columns. Theirs is kept folded."""

    sheet = models.CharField(max_length=40)
    column = models.CharField(max_length=40)
    theirs = models.CharField(max_length=200)
    ours = models.CharField(max_length=40)

    class Meta:
        verbose_name = _("matched word")
        verbose_name_plural = _("matched words")
        constraints = [models.UniqueConstraint(fields=["sheet", "column", "theirs"], name="word_match_once")]

    def __str__(self) -> str:
        return f"{self.sheet} {self.column} {self.theirs}: {self.ours}"
