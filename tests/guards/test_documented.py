"""README names every command and every setting, and none that does not exist."""

import ast
import re

from tests.guards.tree import ROOT, committed, parsed

README = (ROOT / "README.md").read_text(encoding="utf-8")


def commands() -> set[str]:
    """The project's own commands of manage.py."""
    folders = [ROOT / app / "management" / "commands" for app in ("shared", "tooling", "trimfixtures")]
    return {path.stem for path in committed() if path.parent in folders and not path.stem.startswith("_")}


def settings() -> set[str]:
    """The variables that shared/settings.py asks the environment for."""
    found = set()
    for node in ast.walk(parsed(ROOT / "shared" / "settings.py")):
        if isinstance(node, ast.Call) and ast.unparse(node.func).startswith(("env.", "database.")):
            found.update(arg.value for arg in node.args[:1] if isinstance(arg, ast.Constant))
    return found


def table_under(heading: str) -> set[str]:
    """What stands in code type in the first column of the table under a heading."""
    section = README.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]
    return {match.split()[0] for match in re.findall(r"^\| `([^`]+)`", section, flags=re.MULTILINE)}


def test_every_command_is_in_the_table_of_commands():
    assert table_under("Commands") == commands()


def test_every_setting_is_in_the_table_of_settings():
    assert settings() >= {"DATA_DIR", "DATABASE_URL", "SECRET_KEY", "DEBUG"}
    assert table_under("Settings") == settings()
