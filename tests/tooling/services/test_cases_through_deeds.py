"""The 158 worked cases of the release rules, written deed by deed through the ledger and asked of the database."""

import pytest

from shared import clock
from tests.tooling.calc.cases import CASES, ZONE, entries, instant, load
from tests.tooling.calc.test_release_cases import seen
from tooling.models import Kind, Person, RecipeVersion, ReleaseSystem, Shop, Tool
from tooling.selectors.release import standings
from tooling.services.ledger import record
from tooling.services.tools import add_tool

pytestmark = pytest.mark.django_db

_SAID = (
    "count", "area", "came_off", "film", "part", "serial", "release_system", "earliest_pull", "cause", "tool_damaged",
    "passed", "prepared", "pulls_since_coat", "touch_ups", "total_pulls",
)  # fmt: skip


@pytest.fixture
def shop():
    made = Shop(time_zone=str(ZONE), name="Cases")
    made.save()
    for row in load()["release_systems"]:
        system, _ = ReleaseSystem.objects.get_or_create(code=row["code"])
        values = {name: ",".join(map(str, value)) if isinstance(value, list) else value for name, value in row.items()}
        values["valid_from"] = instant(row["valid_from"]) if row["valid_from"] else None
        del values["code"]
        RecipeVersion.objects.create(system=system, name=row["code"], family="other", **values)
    return made


def write(case):
    """The case's log through the ledger; returns its tools by code."""
    system = ReleaseSystem.objects.get(code=case["release_system"])
    logs = entries(case)
    tools = {
        code: add_tool(
            code=code, name=code, kind=Kind.MOLD if code == case["case"] else Kind.INSERT, release_system=system
        )
        for code in logs
    }
    written = {}
    for fact in sorted((fact for log in logs.values() for fact in log), key=lambda fact: fact.id):
        said = {name: getattr(fact, name) for name in _SAID}
        tool_of = {"mold": fact.mold, "surface": fact.surface}
        said.update({name: tools[code] for name, code in tool_of.items() if code})
        person = Person.objects.named(fact.by) if fact.by else None
        written[fact.id] = record(
            tools[fact.tool], fact.kind, by=person, recorded_by=None, at=fact.at,
            replaces=written.get(fact.replaces), voids=written.get(fact.voids), **said,
        )  # fmt: skip
    return tools, written


@pytest.mark.parametrize("name", CASES)
def test_case(shop, name):
    case = CASES[name]
    tools, written = write(case)
    at = instant(case["as_of"])
    answers = {one.tool.code: one for one in standings(tools.values(), at, part=case.get("for_part", ""))}
    codes = {tool.pk: code for code, tool in tools.items()}
    whole = seen(answers[name].status)
    whole["surface"] = codes[whole["surface"]]
    assert {key: whole[key] for key in case["expect"]} == case["expect"]
    for insert, wanted in case.get("inserts", {}).items():
        own = seen(answers[insert].own)
        assert {key: own[key] for key in wanted} == wanted
    number_of = {(entry.tool_id, entry.number): number for number, entry in written.items()}
    flags = {
        (number_of[(flag.tool or tools[code]).pk, flag.number], flag.flag, code)
        for code, answer in answers.items()
        for flag in answer.flags
    }
    assert flags == {(flag["id"], flag["flag"], flag.get("surface", name)) for flag in case["flags"]}


def test_stored_states_answer_like_a_fold(shop):
    case = CASES["M10"]
    tools, _ = write(case)
    now = clock.now()
    stored = standings(tools.values(), now)
    folded = standings(tools.values(), now, known_at=now)
    assert [one.status for one in stored] == [one.status for one in folded]
    assert Tool.objects.count() == 2
