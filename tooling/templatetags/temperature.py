"""How the shop's temperature looks everywhere, and where it is asked for."""

from typing import Any
from uuid import uuid4

from django import template

from shared.access import can_log
from shared.units import METRIC
from tooling.models import Temperature
from tooling.selectors.shop_temperature import shop_temperature
from tooling.selectors.temperature import minutes_to_rub_out
from tooling.words import measures, when

register = template.Library()


@register.inclusion_tag("tooling/_temperature.html", takes_context=True)
def temperature(context: template.Context, one: Temperature | None) -> dict[str, object]:
    """21.5 °C, measured 07:40, Jonas; or: not measured. In the reader’s unit, as typed where that is the same."""
    if one is None:
        return {"one": None}
    system = getattr(context.get("user"), "units", METRIC)
    zone, at = context["zone"], context["now"]
    number = measures.measure(one.value_c, "°C", system, one.as_typed.get("value_c"))
    return {
        "one": one, "number": number, "at": one.at.astimezone(zone), "words": when.clock_or_when(one.at, at, zone)
    }  # fmt: skip


@register.inclusion_tag("tooling/_ask_temperature.html", takes_context=True)
def ask_temperature(context: template.Context) -> dict[str, Any]:
    """What was measured today; as long as nothing was, the field that asks for it. Once a day, on the board."""
    user, at = context["user"], context["now"]
    one = shop_temperature(at, context["zone"])
    given = {"user": user, "now": at, "zone": context["zone"], "csrf_token": context.get("csrf_token")}
    return {
        **given,
        "one": one,
        "minutes": minutes_to_rub_out(one, user, at),
        "may_log": can_log(user),
        "unit": measures.unit_for("value_c", user.units).symbol,
        "token": uuid4(),
        "here": context["request"].path,
    }
