"""What stands on the page of the trim bench."""

from django.utils.translation import gettext as _

from trimfixtures.models import Stage


def part_said(number: str, serial: str) -> str:
    """A part with its serial number, or that it has none."""
    if serial:
        return _("%(part)s, %(serial)s") % {"part": number, "serial": serial}
    return _("%(part)s, without a serial number") % {"part": number}


def stage_said(stage: str) -> str:
    """The stage of a trim mask; "" where none is written down."""
    return str(Stage(stage).label) if stage else ""
