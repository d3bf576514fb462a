"""Every public function of calc says what goes in and what comes out, each with its unit."""

import ast
import re

import pytest

from tests.guards.tree import module_name, parsed, python_files

FUNCTIONS = [
    pytest.param(node, id=f"{module_name(path)}.{node.name}")
    for path in python_files("tooling/calc", "trimfixtures/calc")
    for node in parsed(path).body
    if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
]


def section(docstring: str, title: str) -> list[str]:
    """The lines of one titled block of a docstring, without its indentation."""
    match = re.search(rf"^{title}:\n((?:    .*\n|\n)+)", docstring + "\n", flags=re.MULTILINE)
    return [line[4:] for line in match.group(1).splitlines() if line.strip()] if match else []


@pytest.mark.parametrize("function", FUNCTIONS)
def test_the_parameters_are_those_of_the_signature(function):
    docstring = ast.get_docstring(function) or ""
    assert docstring, "a public function of calc has a docstring"
    args = function.args
    several = [one for one in (args.vararg, args.kwarg) if one is not None]
    given = [arg.arg for arg in (*args.posonlyargs, *args.args, *args.kwonlyargs, *several)]
    heads = [line for line in section(docstring, "Parameters") if not line.startswith(" ")]
    described = [re.fullmatch(r"(\w+) \[[^\]]+\]: .+", line) for line in heads]
    assert all(described), f"not of the form `name [unit]: what it is`: {heads}"
    assert [match.group(1) for match in described] == given


@pytest.mark.parametrize("function", FUNCTIONS)
def test_what_comes_out_has_a_unit(function):
    if isinstance(function.returns, ast.Constant) and function.returns.value is None:
        return
    lines = section(ast.get_docstring(function) or "", "Returns")
    assert lines, "`Returns:` is missing"
    assert re.match(r"\[[^\]]+\]", lines[0]), f"not of the form `[unit] what it is`: {lines[0]}"
