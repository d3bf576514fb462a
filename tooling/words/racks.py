"""What is said on a drawn rack."""

from typing import Any

from django.utils.translation import gettext as _

from tooling.words.measures import measure

_NB = "\N{NO-BREAK SPACE}"


def beside(one: Any, place: Any, system: str, where: str) -> str:
    """What stands beside a tool: its mass, and where its home is, or that nobody saw it there yet.

    where: what is said of where it lies, for one that is gone.
    """
    summary, tool = one.summary, one.tool
    if one.how == "gone":
        return _("not here: %(where)s") % {"where": where}
    said = []
    if tool.mass_kg is not None:
        said.append(str(measure(tool.mass_kg, "kg", system, tool.as_typed.get("mass_kg"))).replace(" ", _NB))
    if summary.home_id != place.pk:
        said.append(_("home: %(place)s") % {"place": summary.home.name} if summary.home else _("has no home"))
    elif one.how == "told":
        said.append(_("not seen yet"))
    if one.how == "unmet":
        said.append(_("not met yet"))
    return ", ".join(said)
