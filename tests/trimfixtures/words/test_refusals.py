"""Every code with which the numbers of trim masks say no has its sentence, with values for all that it names."""

import ast

import pytest

from shared.units import METRIC, US
from tests.guards.tree import parsed, python_files
from trimfixtures.calc.guide import guide_offset
from trimfixtures.calc.outline import read_outline
from trimfixtures.calc.refusal import Refusal
from trimfixtures.words.refusals import refused


def raised() -> set[tuple[str, tuple[str, ...]]]:
    """Code and names of the values of each refusal in calc."""
    calls = [
        node
        for path in python_files("trimfixtures/calc")
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Refusal"
    ]
    return {(call.args[0].value, tuple(word.arg for word in call.keywords)) for call in calls}


@pytest.mark.parametrize(("code", "names"), sorted(raised()))
def test_each_code_has_a_sentence(code, names):
    values = {name: "bushing" if name == "name" else 7.5 for name in names}
    said = refused(Refusal(code, "", **values), METRIC)
    assert len(said) > 20
    assert "%" not in said


def test_sizes_are_in_the_units_of_the_reader():
    with pytest.raises(Refusal) as error:
        guide_offset(12.7, 12.7)
    said = "The cutter ({}) is not smaller than the guide bushing that it turns in ({})."
    assert refused(error.value, METRIC) == said.format("12.7 mm", "12.7 mm")
    assert refused(error.value, US) == said.format("1/2 in", "1/2 in")


def test_an_outline_stays_in_mm():
    with pytest.raises(Refusal) as error:
        read_outline("0 0; 9 1/2; 9 9")
    assert refused(error.value, US).startswith("Point 2 of the outline, “9 1/2”, is no x and y in mm")
