"""Work on the surface itself, and what was seen of it."""

from tooling.calc.state import BARE, PREPARING, SERVICE
from tooling.calc.step import Step


def back_to_bare(step: Step) -> None:
    """Strip, repair or polish. Whole: bare again. Of less: a bare spot that wants a touch-up.

    Parameters:
        step [-]: the strip, repair or polish on its way into a surface.
    """
    state = step.state
    if step.recipe is None:
        return
    if step.entry.area == "whole":
        state.lay_bare()
        return
    state.film_at = None
    step.force("spot_bare")
    if state.phase == PREPARING:
        state.coats, state.next_cap = 0, None


def resurfaced(step: Step) -> None:
    """Re-gelled or cut back: bare, and the surface is new.

    Parameters:
        step [-]: the resurfaced on its way into a surface.
    """
    if step.recipe is not None:
        step.state.lay_bare()
        step.state.new = True


def build_up(step: Step) -> None:
    """Wax, resin or styrene was seen to build up: strip. On a bare surface there is nothing to see.

    Parameters:
        step [-]: the build_up on its way into a surface.
    """
    if step.recipe is None:
        return
    if step.state.phase == BARE:
        step.flag("build_up_on_bare")
    else:
        step.state.build_up = True


def release_check(step: Step) -> None:
    """A try of the release (a strip of tape pulled off). Passed renews the idle days, failed wants a touch-up.

    Parameters:
        step [-]: the release_check on its way into a surface.
    """
    if step.entry.passed is not True:
        step.force("release_check")
    elif step.state.phase == SERVICE:
        step.state.last_check = step.at


def wax_wanted(step: Step) -> None:
    """Someone wants a coat on before the count is up.

    Parameters:
        step [-]: the wax_wanted on its way into a surface.
    """
    step.force("wax_wanted")
