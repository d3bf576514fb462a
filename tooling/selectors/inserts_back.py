"""Are the mold inserts back after a pull: which were in it, which are written as missing, what nobody has said."""

from collections.abc import Collection
from datetime import datetime, timedelta

from tooling.models import Entry, Shop, Tool

# An insert that is in the mold when the part comes off is reached by that pull: it is gone just after.
JUST_AFTER = timedelta(seconds=1)
# A pull that is written today happened no earlier, or is no news.
_LATEST = timedelta(days=7)


def inserts_in(pull: Entry) -> list[Tool]:
    """The inserts that were in the mold when the part came off, and are written as in it still; in code order."""
    put_in = Entry.objects.filter(mold=pull.tool_id, kind="installed", at__lte=pull.at).standing().values("tool")
    return list(Tool.objects.filter(summary__in_mold_of=pull.tool_id, pk__in=put_in).order_by("code"))


def missing_after(pull: Entry) -> list[Entry]:
    """The removals that were written with a pull: inserts that stayed in the part, or were not found.

    Those that are in the mold again are left out.
    """
    ever = Entry.objects.filter(mold=pull.tool_id, kind="installed").values("tool")
    gone = Entry.objects.filter(tool__in=ever, kind="removed", at=pull.at + JUST_AFTER).standing()
    away = gone.exclude(tool__summary__in_mold_of=pull.tool_id)
    return list(away.select_related("tool__summary").order_by("tool__code"))


def not_counted(tool: Tool, inserts: Collection[object], at: datetime, shop: Shop) -> Entry | None:
    """The last pull, where it was written today and nobody has said whether the inserts are back.

    inserts: those that are in the tool; where there are none, there is nothing to say.
    """
    if not inserts:
        return None
    pulls = Entry.objects.filter(tool=tool, kind="pull", at__gte=at - _LATEST).standing()
    last = pulls.order_by("-at", "-pk").first()
    if last is None or "inserts_back" in last.payload:
        return None
    today = at.astimezone(shop.zone).date()
    return last if last.recorded_at.astimezone(shop.zone).date() == today else None
