"""The 158 worked cases of the release rules as one shop: imported once, then asked for by the command."""

import json
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import transaction

from tests.tooling.calc.cases import CASES, ZONE, instant, load
from tests.tooling.sheets.books import taken, write_csv, write_xlsx
from tooling.models import Entry

pytestmark = pytest.mark.django_db

_NUMBERS = ("id", "replaces", "voids")


def shop_of_cases():
    """Every case's tools and log; numbers of the cases are made numbers of the shop."""
    systems = [
        {
            **{name: _cell(value) for name, value in row.items()},
            "name": row["code"],
            "family": "other",
        }
        for row in load()["release_systems"]
    ]
    tools, history = [], []
    for name, case in CASES.items():
        for code in codes_of(name, case):
            kind = "mold" if code == name else "insert"
            tools.append({"code": code, "kind": kind, "name": code, "release_system": case["release_system"]})
        numbers = {line["id"]: len(history) + place for place, line in enumerate(case["log"], 1)}
        for line in case["log"]:
            row = {"tool": name, **line}
            row.update({column: numbers[line[column]] for column in _NUMBERS if column in line})
            row["number"] = row.pop("id")
            history.append({column: _cell(value) for column, value in row.items()})
    shop = [{"name": "Cases", "time_zone": str(ZONE)}]
    return {"shop": shop, "release_systems": systems, "tools": tools, "history": history}


def codes_of(name, case):
    """The case's own tool, and its inserts."""
    return list(dict.fromkeys([name, *(line.get("tool", name) for line in case["log"]), *case.get("inserts", {})]))


def _cell(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ",".join(map(str, value)) if isinstance(value, list) else value


def asked(*words):
    said = StringIO()
    call_command("release_status", *words, "--format", "json", stdout=said)
    return {row["tool"]: row for row in json.loads(said.getvalue())}


@pytest.fixture(scope="module", params=["csv", "xlsx"])
def shop(request, tmp_path_factory, django_db_setup, django_db_blocker):
    """The shop of all cases, taken away again behind the last of them."""
    folder = tmp_path_factory.mktemp("cases")
    sheets = shop_of_cases()
    with django_db_blocker.unblock(), transaction.atomic():
        if request.param == "csv":
            yield taken(write_csv(folder / "shop", sheets))
        else:
            yield taken(write_xlsx(folder / "shop.xlsx", sheets))
        transaction.set_rollback(True)


def test_every_row_is_taken(shop):
    count = sum(len(case["log"]) for case in CASES.values())
    assert shop["errors"] == []
    assert shop["read"]["history"] == shop["written"]["history"] == count


@pytest.mark.parametrize("name", CASES)
def test_case(shop, name):
    case = CASES[name]
    part = ["--part", case["for_part"]] if "for_part" in case else []
    answers = asked(*codes_of(name, case), "--at", case["as_of"], *part)
    mold = {**answers[name], **_in_the_words_of_the_file(answers[name])}
    assert {key: mold[key] for key in case["expect"]} == case["expect"]
    for insert, wanted in case.get("inserts", {}).items():
        own = {**answers[insert], **_in_the_words_of_the_file(answers[insert])}
        assert {key: own[key] for key in wanted} == wanted
    assert _flags(name, answers) == _flags_wanted(name, case)


def _in_the_words_of_the_file(answer):
    when = answer["ready_at"]
    return {"ready_at": when and instant(when[:16]).astimezone(ZONE).strftime("%Y-%m-%dT%H:%M")}


def _flags(name, answers):
    """As (tool whose entry it is, its number there, flag, surface)."""
    return {
        (flag.get("tool", code), flag["entry"], flag["flag"], code)
        for code, answer in answers.items()
        for flag in answer["flags"]
    }


def _flags_wanted(name, case):
    places = {}
    for line in case["log"]:
        tool = line.get("tool", name)
        places[line["id"]] = (tool, sum(1 for owner, _ in places.values() if owner == tool) + 1)
    return {(*places[flag["id"]], flag["flag"], flag.get("surface", name)) for flag in case["flags"]}


def test_nothing_else_was_written(shop):
    assert Entry.objects.count() == shop["written"]["history"]
