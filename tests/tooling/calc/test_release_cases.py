"""The 158 worked cases of the release rules, written by hand from the rules, through the pure functions."""

from dataclasses import fields

import pytest

from tests.tooling.calc.cases import CASES, ZONE, book, entries, instant
from tests.tooling.calc.family import fold_family
from tooling.calc.status import Status


def seen(status: Status) -> dict[str, object]:
    """A status in the words of the case file."""
    values = {f.name: getattr(status, f.name) for f in fields(status)}
    values["why"] = list(status.why)
    values["need"] = status.need._asdict() if status.need else None
    for name in ("ready_at",):
        values[name] = status.ready_at.astimezone(ZONE).strftime("%Y-%m-%dT%H:%M") if status.ready_at else None
    values["expires_on"] = status.expires_on.isoformat() if status.expires_on else None
    return values


@pytest.mark.parametrize("name", CASES)
def test_case(name):
    case = CASES[name]
    logs = entries(case)
    systems = dict.fromkeys(logs, case["release_system"])
    part = case.get("for_part", "")
    family = fold_family(logs, name, systems, book(), ZONE, instant(case["as_of"]), part=part)
    whole = seen(family.whole)
    assert {key: whole[key] for key in case["expect"]} == case["expect"]
    for insert, wanted in case.get("inserts", {}).items():
        own = seen(family.own[insert])
        assert {key: own[key] for key in wanted} == wanted
    flags = {(number, flag, tool) for tool, one in family.folded.items() for number, flag in one.flags}
    assert flags == {(flag["id"], flag["flag"], flag.get("surface", name)) for flag in case["flags"]}


def test_every_case_is_there():
    assert len(CASES) == 158
