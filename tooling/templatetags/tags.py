"""What is known of the tag of a tool, on its page; and on the board how many are to print."""

from typing import Any

from django import template
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shared.access import can_lead, can_log
from tooling.selectors.tags_wanted import COUNTED, count_shown, want_of
from tooling.services.tags.lost import may_rub_out
from tooling.words.tags import reason

register = template.Library()


@register.inclusion_tag("tooling/tags/_of_tool.html", takes_context=True)
def tag_of(context: template.Context) -> dict[str, Any]:
    """The tag of the tool of this page."""
    tool, at, zone, person = (context[name] for name in ("tool", "now", "zone", "user"))
    want = want_of(tool, at)
    kept = {name: context.get(name) for name in ("tool", "summary", "may_log", "user", "now", "zone", "csrf_token")}
    if want is None:
        return {**kept, "tag": {}}
    known = {"known": want.tag, "reason": reason(want.tag, want.now, want.other, at, zone) if want.tag.wanted else ""}
    return {**kept, "tag": {**known, "may_rub_out": can_log(person) and may_rub_out(want.tag, person, at)}}


@register.inclusion_tag("tooling/tags/_to_print.html", takes_context=True)
def tags_to_print(context: template.Context) -> dict[str, Any]:
    """One quiet line for a lead; nothing for anybody else."""
    count = count_shown() if can_lead(context["user"]) else 0
    if count > COUNTED:
        return {"says": _("More than %(n)d tags to print.") % {"n": COUNTED}}
    return {"says": ngettext("%(n)d tag to print.", "%(n)d tags to print.", count) % {"n": count} if count else ""}
