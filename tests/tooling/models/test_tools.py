"""Tools, and the codes they are known by."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from tests.tooling.rows import make_tool
from tooling.models import Kind, Tool, ToolAlias, check_code, check_code_free, propose_code

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("code", ["A", "K-2B", "k-2b", "1", "0173.4", "A" * 16])
def test_a_possible_code(code):
    check_code(code)


@pytest.mark.parametrize(
    ("code", "proposed"),
    [
        ("K 2/B", "K-2-B"),
        ("bow_plug", "BOW-PLUG"),
        ("Çelik", "CELIK"),
        ("A" * 17, "A" * 16),
        ("ABCDEFGHIJKLMNO PQ", "ABCDEFGHIJKLMNO"),
        ("ſ", "S"),
        ("..", ""),
        ("", ""),
        ("—", ""),
    ],
)
def test_an_impossible_code_is_refused_with_a_proposal(code, proposed):
    with pytest.raises(ValidationError) as refusal:
        check_code(code)
    assert propose_code(code) == proposed
    if proposed:
        check_code(proposed)
        assert proposed in refusal.value.messages[0]


def test_a_code_is_stored_in_upper_case_and_found_in_any():
    tool = Tool(code=" k-2b ", kind="mold", name="Deck")
    tool.full_clean()
    tool.save()
    assert tool.code == "K-2B"
    assert Tool.objects.called("k-2B").get() == tool
    with pytest.raises(IntegrityError), transaction.atomic():
        make_tool("k-2c")


def test_an_older_code_leads_to_its_tool():
    tool = make_tool("K-2B")
    alias = ToolAlias(code="deck  mold/2", tool=tool)
    alias.full_clean()
    alias.save()
    assert alias.code == "DECK MOLD/2"
    assert Tool.objects.called("Deck mold/2 ").get() == tool


def test_a_code_is_given_once_among_codes_and_older_codes():
    tool, other = make_tool("K-1"), make_tool("K-2")
    ToolAlias.objects.create(code="OLD-1", tool=tool)
    for taken in ("K-1", "old-1"):
        with pytest.raises(ValidationError, match="K-1"):
            check_code_free(taken)
        with pytest.raises(ValidationError):
            Tool(code=taken, kind="mold", name="x").full_clean()
        with pytest.raises(ValidationError):
            ToolAlias(code=taken, tool=other).full_clean()
    check_code_free("OLD-1", tool)
    check_code_free("K-3")


@pytest.mark.parametrize(
    "wrong",
    [
        {"kind": "jig"},
        {"hand": "X"},
        {"mass_kg": Decimal("-1")},
        {"cost": Decimal("-0.01")},
        {"inspect_every_pulls": 0},
        {"inspect_every_days": 0},
    ],
)
def test_a_value_out_of_range_is_refused(wrong):
    with pytest.raises(IntegrityError), transaction.atomic():
        make_tool(**wrong)
    with pytest.raises(ValidationError):
        Tool(**{"code": "K-1", "kind": "mold", "name": "x", **wrong}).full_clean()


def test_a_tool_is_not_made_from_itself():
    tool = make_tool()
    tool.made_from = tool
    with pytest.raises(ValidationError) as refusal:
        tool.full_clean()
    assert "made_from" in refusal.value.message_dict
    with pytest.raises(IntegrityError), transaction.atomic():
        tool.save()


@pytest.mark.parametrize("written", ["12.5", "0.000001", "123456789.123456", "100", "0", "999999999.999999"])
def test_a_number_comes_back_as_it_was_written(written):
    make_tool(mass_kg=Decimal(written))
    assert str(Tool.objects.get().mass_kg) == written


def test_kinds_carry_their_groups():
    for kind in ("plug", "mold", "insert"):
        assert Tool(kind=kind).has_surface
    assert not Tool(kind="trim_mask").has_surface
    assert frozenset({"mold"}) == Kind.TAKES_INSERTS
