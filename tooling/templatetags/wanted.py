"""How a wanted part looks everywhere, and the list beside the board."""

from typing import Any

from django import template

from shared.access import can_do, can_log, can_want
from tooling.selectors.wanted import on_list
from tooling.selectors.wanted_now import WantedNow
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.wanted import may_rub_out
from tooling.words import wanted as words
from tooling.words.wanted_next import Step, next_step, state
from tooling.words.when import minutes_left

register = template.Library()
# As many as stand beside the board; the others are a link to all.
BESIDE = 20
# As many as a line at the wall has room for.
IN_A_LINE = 4


@register.inclusion_tag("tooling/_wanted.html", takes_context=True)
def wanted_part(context: template.Context, one: WantedNow) -> dict[str, Any]:
    """One part: how many, how far it is, when the next can be laid up, and its next deed for whoever logs deeds."""
    now, zone, user = context["now"], context["zone"], context["user"]
    step = next_step(one) if can_log(user) else None
    if step is not None and step.deed is not None and not can_do(user, as_lead=step.deed.is_a_leads):
        step = Step()
    return {
        "on": one.on,
        "revision": one.on.revision if one.on.row.revision_id is not None else None,
        "far": words.far(one.on.progress, now, zone),
        "state": state(one, now, zone),
        "day": words.for_day(one.on.row, now, zone),
        "step": step,
    }


@register.inclusion_tag("tooling/_wanted_today.html", takes_context=True)
def wanted_today(context: template.Context, shown: list[WantedNow]) -> dict[str, Any]:
    """What is wanted by today, beside the board; for a lead with the line that adds to it, and what was just taken off.

    Nothing for others while nothing is wanted.
    """
    return {
        **{name: context.get(name) for name in ("now", "zone", "user", "csrf_token", "just_off")},
        "shown": shown[:BESIDE],
        "more": len(shown[BESIDE:]),
        "form": context.get("want_form"),
        "here": context["request"].path,
    }


@register.inclusion_tag("tooling/_wanted_line.html", takes_context=True)
def wanted_line(context: template.Context) -> dict[str, Any]:
    """What is wanted by today in one line, each with how far it is: for the wall, which is not scrolled."""
    now, zone = context["now"], context["zone"]
    listed = [one for one in on_list(now, zone, by_today=True) if not one.is_done]
    said = [(one, words.far(one.progress, now, zone)) for one in listed[:IN_A_LINE]]
    return {"said": said, "more": len(listed[IN_A_LINE:])}


@register.simple_tag(takes_context=True)
def minutes_to_rub_out_wanted(context: template.Context, row: Any) -> int:
    """For how many more minutes the reader may put it back; 0: not any more."""
    user, now = context["user"], context["now"]
    if not (can_want(user) and may_rub_out(row, user, now)):
        return 0
    return minutes_left(row.off_at + RUB_OUT_WITHIN, now)
