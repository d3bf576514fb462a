"""The project speaks of itself only: no place on somebody's machine, one spelling and the trade's own words."""

import ast
import re

import pytest

from tests.guards.tree import ROOT, committed, module_name, parsed, python_files

TEXT = (".py", ".md", ".html", ".css", ".js", ".toml", ".txt", ".sh", ".yml", ".json", ".csv", ".svg", "")
SELF = ROOT / "tests" / "guards" / "test_own_voice.py"
STRANGE = {
    "a folder of somebody's machine": re.compile(r"(?<![\w.])/(?:work|home|Users|root|tmp)/[a-z]", re.IGNORECASE),
    "a number of somebody's list": re.compile(r"\bissue #?\d+", re.IGNORECASE),
    "text that stands in for text": re.compile(r"lorem ipsum|coming soon", re.IGNORECASE),
    "mould for mold": re.compile(r"\bmould", re.IGNORECASE),
}


def test_the_tree_speaks_of_itself_only():
    found = []
    for path in committed():
        if path.suffix in TEXT and path != SELF:
            text = path.read_text(encoding="utf-8", errors="replace")
            strange = [(what, match[0]) for what, pattern in STRANGE.items() for match in pattern.finditer(text)]
            found += [(str(path.relative_to(ROOT)), *one) for one in strange]
    assert found == []


# What is said on screens: words of study cards, a mask that might be a respirator, second words for one thing (home,
# held, reinstated, idle).
NOT_SAID = re.compile(
    r"\b(?:over)?due\b|\bease\b|(?<!trim )(?<!trim\n)\bmasks?\b|\blives? (?:here|there|elsewhere)\b|\bstays stopped\b"
    r"|\bback into use\b|\bquiet days?\b|\bstood too long\b|\bstanding still\b",
    re.IGNORECASE,
)
PAPERS = ("README.md", "CHANGELOG.md", "DEVELOPERS.md")
TEMPLATES = [path for path in committed() if path.suffix == ".html" and ROOT / "templates" in path.parents]
_COMMENT = re.compile(r"{#.*?#}|{% comment %}.*?{% endcomment %}", re.DOTALL)
_TRANSLATED = re.compile(r"""{% trans (["'])(.*?)\1.*?%}|_\((["'])(.*?)\3\)""")
# Marks a text for translation; and what is one name, not a text.
_MARKS = frozenset({"_", "_now", "later", "gettext", "gettext_lazy", "ngettext", "ngettext_lazy"})
_NAME = re.compile(r"[\w.:]+|trimfixtures\S+")
# A sheet, and a column that is needed
_NAMES_ON_PAPER = re.compile(r"`\w+`|\*\*\w+\*\*")
_MARKUP = re.compile(r"{[{%].*?[%}]}|<[^>]*>", re.DOTALL)


def said_by_template(text: str) -> str:
    """The words of a template, whether they stand in it or in its tags."""
    text = _COMMENT.sub("", text)
    in_tags = [match.group(2) or match.group(4) for match in _TRANSLATED.finditer(text)]
    return "\n".join([*in_tags, _MARKUP.sub("", text)])


def said_by_module(tree: ast.Module) -> list[str]:
    """The texts of a module, without its docstrings, and without names that stand for a table, column or sheet."""
    alone = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    calls = (node for node in ast.walk(tree) if isinstance(node, ast.Call) and _called(node) in _MARKS)
    on_screen = {id(arg) for call in calls for arg in call.args}
    texts = (node for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in alone)
    return [
        node.value for node in texts
        if isinstance(node.value, str) and (id(node) in on_screen or not _NAME.fullmatch(node.value))
    ]  # fmt: skip


def _called(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else ""


def test_templates_say_the_words_of_the_trade():
    said = ((path.name, said_by_template(path.read_text(encoding="utf-8"))) for path in TEMPLATES)
    assert [(name, words) for name, text in said if (words := NOT_SAID.findall(text))] == []


def test_the_texts_of_modules_say_the_words_of_the_trade():
    modules = python_files("tooling", "trimfixtures", "shared", "fixtures")
    said = ((module_name(path), text) for path in modules for text in said_by_module(parsed(path)))
    assert [(name, text) for name, text in said if NOT_SAID.search(text)] == []


@pytest.mark.parametrize("name", PAPERS)
def test_what_is_read_beside_the_program_says_the_words_of_the_trade(name):
    assert NOT_SAID.findall(_NAMES_ON_PAPER.sub("", (ROOT / name).read_text(encoding="utf-8"))) == []


def test_words_that_are_not_said_are_found():
    template = (
        """{# due #}<p class="mask" title="{% trans "Overdue" %}">{% trans 'the mask' %} of a trim mask{{ due }}</p>"""
    )
    assert NOT_SAID.findall(said_by_template(template)) == ["Overdue", "mask"]
    assert NOT_SAID.findall("It lives there, a home lies elsewhere.") == ["lives there"]
    module = ast.parse('"""due"""\nWORDS = {"used_overdue": _("a coat is due"), "trim_mask": _("trim masks")}')
    assert [text for text in said_by_module(module) if NOT_SAID.search(text)] == ["a coat is due"]
