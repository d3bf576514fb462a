"""A pass that was just taken out of a plug's record, to be put back."""

from django.http import HttpRequest

from tooling.models import MillingPass, Tool
from tooling.views import row_gone

_KEPT = "passes_gone"
_SAID = [field for field in MillingPass._meta.concrete_fields if field.name != "tool"]


def keep_gone(request: HttpRequest, one: MillingPass) -> str:
    """The pass as it was; returns what the address calls it by."""
    return row_gone.keep(request, _KEPT, one.tool, one, _SAID)


def pass_of(request: HttpRequest, name: str, tool: Tool) -> MillingPass | None:
    """The pass of that name, unsaved; None where none of this plug was taken out here, or it is back already."""
    columns = row_gone.found(request, _KEPT, tool, name, _SAID)
    if columns is None or MillingPass.objects.filter(pk=columns["id"]).exists():
        return None
    return MillingPass(tool=tool, **columns)
