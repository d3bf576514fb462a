"""Release recipes: never edited, a change is a further version."""

import datetime

from django.db import models
from django.utils.translation import gettext_lazy as _

from tooling.calc.readiness import Work
from tooling.calc.recipe import Recipe
from tooling.models.codes import check_code, tidy_code
from tooling.models.fields import NumberField, at_least

COUNTS_FROM_ONE = ("coats_new", "coats_again", "pulls_between", "touch_up_coats")
COUNTS_FROM_NONE = (
    "sealer_coats",
    "max_touch_ups",
    "max_pulls_per_preparation",
    "max_idle_days",
    "strip_after_idle_days",
    "max_coat_age_days",
    "film_first_pulls",
)
TIMES = (
    "film_dry_minutes",
    "film_good_hours",
    "coat_gap_minutes",
    "longest_gap_hours",
    "cure_hours_preparation",
    "cure_hours_touch_up",
    "coat_minutes",
    "wipe_minutes",
    "film_minutes",
    "strip_minutes",
)
# What a recipe says of its numbers that nobody has set
NO_SOURCE = _("common practice, no source: set your own")
# How long the hands are at it: for planning only, no rule reads them
PLANNING = frozenset({"coat_minutes", "wipe_minutes", "film_minutes", "strip_minutes"})


class Family(models.TextChoices):
    PASTE_WAX = "paste_wax", _("paste wax")
    SEMI_PERMANENT = "semi_permanent", _("semi-permanent")
    OTHER = "other", _("other")


class BreakInOn(models.TextChoices):
    EVERY_PREPARATION = "every_preparation", _("after every preparation")
    NEW_SURFACE = "new_surface", _("after that of a new surface")


class CameOff(models.TextChoices):
    """How a molding came off, from easy to worst."""

    FREE = "free", _("free")
    LIGHT = "light", _("light")
    TIGHT = "tight", _("tight")
    STUCK = "stuck", _("stuck")
    LOST = "lost", _("lost")


class ReleaseSystem(models.Model):
    """A recipe by its code; what it says stands in its versions."""

    code = models.CharField(_("code"), max_length=16, unique=True, validators=[check_code])

    class Meta:
        ordering = ["code"]
        verbose_name = _("release recipe")
        verbose_name_plural = _("release recipes")
        constraints = [
            models.CheckConstraint(condition=~models.Q(code=""), name="release_system_code_given"),
        ]

    def __str__(self) -> str:
        return self.code

    def clean(self) -> None:
        self.code = tidy_code(self.code)


class RecipeVersionQuerySet(models.QuerySet["RecipeVersion"]):
    def in_order(self) -> "RecipeVersionQuerySet":
        """By recipe, the first version before those that changed it."""
        return self.order_by("system__code", models.F("valid_from").asc(nulls_first=True))

    def begun(self, at: datetime.datetime) -> "RecipeVersionQuerySet":
        """What was in force at that moment or had been before."""
        return self.filter(models.Q(valid_from=None) | models.Q(valid_from__lte=at))

    def in_force(self, at: datetime.datetime) -> "RecipeVersionQuerySet":
        """The one version of each recipe that holds at that moment."""
        newest = (
            RecipeVersion.objects.begun(at)
            .filter(system=models.OuterRef("system"))
            .order_by(models.F("valid_from").desc(nulls_last=True))
        )
        return self.filter(pk=models.Subquery(newest.values("pk")[:1]))


class RecipeVersion(models.Model):
    system = models.ForeignKey(ReleaseSystem, models.PROTECT, related_name="versions")
    valid_from = models.DateTimeField(_("valid from"), null=True, blank=True)
    name = models.CharField(_("name"), max_length=200)
    family = models.CharField(_("family"), max_length=20, choices=Family.choices)
    sealer_coats = models.PositiveIntegerField(_("sealer coats"), default=0)
    coats_new = models.PositiveIntegerField(_("coats on a new surface"), default=5)
    coats_again = models.PositiveIntegerField(_("coats on one prepared before"), default=3)
    break_in = models.TextField(_("break-in"), blank=True, default="1,1,1")
    break_in_on = models.CharField(
        _("break-in on"), max_length=20, choices=BreakInOn.choices, default=BreakInOn.EVERY_PREPARATION
    )
    pulls_between = models.PositiveIntegerField(_("pulls between coats"), default=4)
    touch_up_coats = models.PositiveIntegerField(_("coats of a touch-up"), default=1)
    max_touch_ups = models.PositiveIntegerField(_("most touch-ups"), null=True, blank=True)
    max_pulls_per_preparation = models.PositiveIntegerField(_("most pulls of a preparation"), null=True, blank=True)
    max_idle_days = models.PositiveIntegerField(_("most idle days"), null=True, blank=True, default=30)
    strip_after_idle_days = models.PositiveIntegerField(_("strip after idle days"), null=True, blank=True)
    max_coat_age_days = models.PositiveIntegerField(_("oldest coat in days"), null=True, blank=True)
    film_every_pull = models.BooleanField(_("film at every pull"), default=False)
    film_first_pulls = models.PositiveIntegerField(_("film at the first pulls"), default=0)
    film_dry_minutes = NumberField(_("film dries"), default=0)
    film_good_hours = NumberField(_("film is good for"), null=True, blank=True)
    coat_gap_minutes = NumberField(_("wait between coats"), default=0)
    longest_gap_hours = NumberField(_("longest wait between coats"), null=True, blank=True)
    cure_hours_preparation = NumberField(_("cure of a preparation"), default=0)
    cure_hours_touch_up = NumberField(_("cure of a touch-up"), default=0)
    touch_up_from = models.CharField(_("touch-up from"), max_length=10, choices=CameOff.choices, default=CameOff.TIGHT)
    strip_from = models.CharField(_("strip from"), max_length=10, choices=CameOff.choices, default=CameOff.STUCK)
    hold_from = models.CharField(_("hold from"), max_length=10, choices=CameOff.choices, default=CameOff.LOST)
    accepts = models.TextField(_("accepts coats of"), blank=True, default="")
    coat_minutes = NumberField(_("work on a coat"), default=15)
    wipe_minutes = NumberField(_("wait before wiping"), default=0)
    film_minutes = NumberField(_("work on a film"), default=10)
    strip_minutes = NumberField(_("work on a strip"), default=60)
    low_c = NumberField(_("coldest shop"), null=True, blank=True)
    reference_c = NumberField(_("reference temperature"), null=True, blank=True)
    high_c = NumberField(_("warmest shop"), null=True, blank=True)
    max_part_cure_c = NumberField(_("hottest part cure"), null=True, blank=True)
    supplier_sheet = models.TextField(_("where the numbers come from"), blank=True, default="")

    objects = RecipeVersionQuerySet.as_manager()

    class Meta:
        ordering = ["system", models.F("valid_from").asc(nulls_first=True)]
        verbose_name = _("recipe version")
        verbose_name_plural = _("recipe versions")
        constraints = [
            models.UniqueConstraint(fields=["system", "valid_from"], name="recipe_version_once"),
            models.UniqueConstraint(
                fields=["system"], condition=models.Q(valid_from=None), name="recipe_version_one_first"
            ),
            models.CheckConstraint(condition=models.Q(family__in=Family.values), name="recipe_version_family"),
            models.CheckConstraint(
                condition=models.Q(break_in_on__in=BreakInOn.values), name="recipe_version_break_in"
            ),
            *at_least(1, *COUNTS_FROM_ONE, model="recipe"),
            *at_least(0, *TIMES, model="recipe"),
            *(
                models.CheckConstraint(
                    condition=models.Q(**{f"{name}__in": CameOff.values}), name=f"recipe_{name}_word"
                )
                for name in ("touch_up_from", "strip_from", "hold_from")
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def has_no_source(self) -> bool:
        return self.supplier_sheet == str(NO_SOURCE)

    @property
    def break_in_pulls(self) -> tuple[int, ...]:
        return tuple(int(pulls) for pulls in self.break_in.split(",") if pulls.strip())

    @property
    def accepted_codes(self) -> tuple[str, ...]:
        return tuple(tidy_code(code) for code in self.accepts.split(",") if code.strip())

    @property
    def work(self) -> Work:
        """How long the hands are at it, for planning."""
        minutes = (self.coat_minutes, self.wipe_minutes, self.film_minutes, self.strip_minutes)
        return Work(*(float(number) for number in minutes))

    def as_calc(self) -> Recipe:
        """The plain value that the rules read."""
        counts = (*COUNTS_FROM_ONE, *COUNTS_FROM_NONE, "film_every_pull")
        words = ("family", "break_in_on", "touch_up_from", "strip_from", "hold_from")
        waits = (name for name in TIMES if name not in PLANNING)
        return Recipe(
            code=self.system.code,
            valid_from=self.valid_from,
            break_in=self.break_in_pulls,
            accepts=self.accepted_codes,
            **{name: getattr(self, name) for name in counts},
            **{name: str(getattr(self, name)) for name in words},
            **{name: _as_float(getattr(self, name)) for name in waits},
        )


def _as_float(number) -> float | None:
    return None if number is None else float(number)
