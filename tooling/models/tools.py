"""Tools of four kinds, and the codes they are known by."""

import enum

from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models.functions import Upper
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from tooling.models.codes import check_code, tidy_code, tidy_older_code
from tooling.models.fields import Measured, NumberField, at_least


class Kind(models.TextChoices):
    PLUG = "plug", _("plug")
    MOLD = "mold", _("mold")
    INSERT = "insert", _("mold insert")
    TRIM_MASK = "trim_mask", _("trim mask")

    WITH_SURFACE = enum.nonmember(frozenset({"plug", "mold", "insert"}))
    TAKES_INSERTS = enum.nonmember(frozenset({"mold"}))


class Hand(models.TextChoices):
    LEFT = "L", _("left-hand")
    RIGHT = "R", _("right-hand")


class ToolQuerySet(models.QuerySet["Tool"]):
    def held(self) -> "ToolQuerySet":
        """Those on which a held tag hangs: nobody hangs one on a tool that was retired."""
        return self.filter(summary__held_since__isnull=False, summary__retired=False)

    def called(self, code: str) -> "ToolQuerySet":
        """The tool that has or once had that code, in any case."""
        tidy = tidy_code(code)
        if "\x00" in tidy:
            return self.none()  # PostgreSQL has no such letter, and says so loudly
        # One that was kept before commas were left out has it still.
        old = ToolAlias.objects.filter(code__in={tidy_older_code(tidy), " ".join(tidy.split())}).values("tool")
        return self.filter(models.Q(code=tidy) | models.Q(pk__in=old))


class Tool(Measured):
    """One tool. What changes with its history stands in its summary; here stands how it began."""

    code = models.CharField(_("code"), max_length=16, unique=True, validators=[check_code])
    kind = models.CharField(_("kind"), max_length=10, choices=Kind.choices)
    name = models.CharField(_("name"), max_length=200)
    release_system = models.ForeignKey(
        "ReleaseSystem", models.PROTECT, null=True, blank=True, related_name="tools", verbose_name=_("release recipe")
    )
    place = models.ForeignKey(
        "Place", models.PROTECT, null=True, blank=True, related_name="tools", verbose_name=_("home")
    )
    made_from = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="made", db_index=False, verbose_name=_("made from")
    )
    in_place_of = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="in_its_place", db_index=False,
        verbose_name=_("in the place of"),
    )  # fmt: skip
    matched_set = models.CharField(_("matched set"), max_length=80, blank=True, default="")
    hand = models.CharField(_("hand"), max_length=1, choices=Hand.choices, blank=True, default="")
    in_making = models.BooleanField(_("in the making"), default=False)
    owner = models.TextField(_("owner"), blank=True, default="")
    owner_ref = models.TextField(_("owner's reference"), blank=True, default="")
    mass_kg = NumberField(_("mass"), null=True, blank=True)
    lift = models.TextField(_("lift"), blank=True, default="")
    length_mm = NumberField(_("length"), null=True, blank=True)
    width_mm = NumberField(_("width"), null=True, blank=True)
    height_mm = NumberField(_("height"), null=True, blank=True)
    construction = models.TextField(_("construction"), blank=True, default="")
    max_service_c = NumberField(_("hottest service"), null=True, blank=True)
    glass_transition_c = NumberField(_("glass transition"), null=True, blank=True)
    built_on = models.DateField(_("built on"), null=True, blank=True)
    not_before = models.DateField(_("not before"), null=True, blank=True)
    inspect_every_pulls = models.PositiveIntegerField(
        _("look-over after pulls"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    inspect_every_days = models.PositiveIntegerField(
        _("look-over after days"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    design_ref = models.TextField(_("design"), blank=True, default="")
    cost = NumberField(_("cost"), null=True, blank=True)
    note = models.TextField(_("note"), blank=True, default="")

    objects = ToolQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        verbose_name = _("tool")
        verbose_name_plural = _("tools")
        indexes = [
            models.Index(fields=["matched_set"], condition=~models.Q(matched_set=""), name="tool_matched_set"),
            models.Index(fields=["name", "code"], name="tool_name_code"),
            # Only of those that have one: else statistics say that most tools were made from the same.
            models.Index(fields=["made_from"], condition=models.Q(made_from__isnull=False), name="tool_made_from"),
            models.Index(
                fields=["in_place_of"], condition=models.Q(in_place_of__isnull=False), name="tool_in_place_of"
            ),
            models.Index(fields=["owner"], condition=~models.Q(owner=""), name="tool_owner"),
        ]
        constraints = [
            models.CheckConstraint(condition=models.Q(code=Upper("code")) & ~models.Q(code=""), name="tool_code_upper"),
            models.CheckConstraint(condition=models.Q(kind__in=Kind.values), name="tool_kind"),
            models.CheckConstraint(condition=models.Q(hand__in=["", *Hand.values]), name="tool_hand"),
            models.CheckConstraint(condition=~models.Q(made_from=models.F("id")), name="tool_not_from_itself"),
            models.CheckConstraint(condition=~models.Q(in_place_of=models.F("id")), name="tool_not_in_own_place"),
            *at_least(0, "mass_kg", "length_mm", "width_mm", "height_mm", "cost", model="tool"),
            *at_least(1, "inspect_every_pulls", "inspect_every_days", model="tool"),
        ]

    def __str__(self) -> str:
        return self.code

    def clean(self) -> None:
        self.code = tidy_code(self.code)
        try:
            check_code_free(self.code, self)
        except ValidationError as taken:
            raise ValidationError({"code": taken.messages}) from taken
        if self.pk is not None and self.made_from_id == self.pk:
            raise ValidationError({"made_from": _("A tool cannot be made from itself.")})
        if self.pk is not None and self.in_place_of_id == self.pk:
            raise ValidationError({"in_place_of": _("A tool cannot take its own place.")})

    @property
    def has_surface(self) -> bool:
        return self.kind in Kind.WITH_SURFACE


class ToolAlias(models.Model):
    """An older code of a tool, or the shop's own spelling of it. It stays for ever."""

    code = models.CharField(_("code"), max_length=80, unique=True)
    tool = models.ForeignKey(Tool, models.CASCADE, related_name="aliases")

    class Meta:
        ordering = ["code"]
        verbose_name = _("older code")
        verbose_name_plural = _("older codes")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(code=Upper("code")) & ~models.Q(code=""), name="tool_alias_code_upper"
            ),
        ]

    def __str__(self) -> str:
        return self.code

    def clean(self) -> None:
        self.code = tidy_older_code(self.code)
        try:
            check_code_free(self.code, self.tool)
        except ValidationError as taken:
            raise ValidationError({"code": taken.messages}) from taken


def check_code_free(code: str, tool: Tool | None = None) -> None:
    """Refuse a code that another tool has or once had.

    A tool may take back a code of its own; an older code that it has now would be said twice.
    """
    others = Tool.objects.called(code)
    if tool is not None and tool.pk is not None:
        others = others.exclude(pk=tool.pk)
    other = others.first()
    if other is not None:
        message = _now("%(code)s is or was the code of the tool %(other)s.")
        raise ValidationError(message % {"code": tidy_code(code), "other": other.code}, code="taken")
