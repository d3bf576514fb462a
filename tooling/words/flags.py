"""What is said of an entry that happened although it should not have: a plain sentence for each flag."""

from django.utils.translation import gettext_lazy as _

FLAGS = {
    "used_on_hold": _("It was used while it was held."),
    "used_on_bare": _("It was used bare: no preparation was on it."),
    "used_while_preparing": _("It was used before its preparation was complete: the coats begin again."),
    "used_count_unknown": _("It was used although nobody knew how many pulls it had had."),
    "unfinished_touch_up_lost": _("It was used in the middle of a touch-up: the coats begun do not count."),
    "used_before_cure": _("It was used before the last coat’s time was up."),
    "used_overdue": _("It was used although it wanted a coat or a strip."),
    "used_without_film": _("It was used without the film that its recipe wants."),
    "used_on_wet_film": _("It was used before the film’s drying time was up."),
    "already_laid_up": _("A part was in it already."),
    "nothing_laid_up": _("No part was in it."),
    "pulled_early": _("It was pulled before its earliest time."),
    "coat_too_soon": _("The coat went on before the wait between coats was over."),
    "coat_too_late": _("The coat went on after the longest wait between coats."),
    "foreign_coat": _("Its recipe does not accept this coat: it does not count, and the surface is stripped first."),
    "coat_before_sealer": _("The coat went on before the sealer was complete: it is stripped first."),
    "touch_up_where_strip_due": _("The coat went on where it wanted a strip: it is still stripped first."),
    "coat_beyond_limit": _("All its touch-ups were used up: this coat is an extra one, and the pulls go on counting."),
    "sealer_over_coat": _("The sealer went on over coats: it is stripped first."),
    "film_not_in_recipe": _("Its recipe has no film."),
    "film_on_unready": _("The film went on a surface that was not prepared."),
    "worked_with_part_in": _("It was worked on while a part was in it."),
    "build_up_on_bare": _("The surface was bare, so build-up is not counted."),
    "not_on_hold": _("It was not held."),
    "inspected_by_same_hand": _("The hand that held it also freed it."),
    "release_system_changed_over_coat": _("The recipe was changed over an old coat: it is stripped first."),
    "already_retired": _("It was retired already."),
    "after_retirement": _("It was retired by then: nothing of how it stands changes; only a pull is counted."),
    "not_retired": _("It was not retired."),
    "before_starting_state": _("It lies before the starting state: kept, and not counted."),
}


# A plug has a molding on it and no part in it.
_ON_A_PLUG = {
    "already_laid_up": _("A molding was on it already."),
    "nothing_laid_up": _("No molding was on it."),
    "worked_with_part_in": _("It was worked on while a molding was on it."),
}


def flag_words(flag: str, kind: str = "mold") -> str:
    """What a flag means. `kind`: of the tool whose entry has it."""
    return str(_ON_A_PLUG.get(flag, FLAGS[flag]) if kind == "plug" else FLAGS[flag])
