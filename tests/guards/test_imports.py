"""The floors of the house: imports go down, never up."""

import ast

import pytest

from tests.guards.tree import imports, module_name, parsed, python_files

APPS = ("shared", "tooling", "trimfixtures")
# A floor may import those with a smaller number; selectors and services may import each other.
FLOORS = {
    "calc": 0, "drawing": 1, "models": 2, "words": 3, "selectors": 4, "services": 4, "forms": 5, "templatetags": 5,
    "views": 6, "management": 6,
}  # fmt: skip
# What stands beside the floors: an app's own wiring
BESIDE = (
    "apps", "checks", "migrations", "urls", "urls_catalogue", "urls_deeds", "urls_keep", "urls_moving", "urls_people",
    "urls_pictures", "urls_walk",
)  # fmt: skip
FILES = python_files(*APPS)


def floor(module: str) -> tuple[str, int] | None:
    """The app and the floor that a dotted name belongs to, if it stands on one."""
    app, _, rest = module.partition(".")
    name = rest.partition(".")[0]
    return (app, FLOORS[name]) if app in APPS and name in FLOORS else None


def is_under(module: str, *packages: str) -> bool:
    return any(module == package or module.startswith(f"{package}.") for package in packages)


@pytest.mark.parametrize("path", FILES, ids=module_name)
def test_an_app_never_imports_the_one_above(path):
    app = module_name(path).partition(".")[0]
    above = APPS[APPS.index(app) + 1 :]
    assert not [name for name in imports(path) if is_under(name, *above)]


@pytest.mark.parametrize("path", FILES, ids=module_name)
def test_a_floor_never_imports_one_above(path):
    own = floor(module_name(path))
    if own is None or "migrations" in path.parts:
        return
    for name in imports(path):
        other = floor(name)
        if other is not None and other[0] == own[0]:
            assert other[1] <= own[1], f"{module_name(path)} imports {name}, which stands above it"


@pytest.mark.parametrize("path", python_files("tooling", "trimfixtures"), ids=module_name)
def test_every_package_of_an_app_has_its_floor(path):
    name = module_name(path).partition(".")[2].partition(".")[0]
    assert not name or name in FLOORS or name in BESIDE


@pytest.mark.parametrize("path", python_files("tooling/calc", "trimfixtures/calc"), ids=module_name)
def test_calc_knows_no_django_no_clock_and_no_file(path):
    outside = ("django", "shared", "os", "io", "pathlib", "socket", "time", "random", "requests", "urllib")
    assert not [name for name in imports(path) if is_under(name, *outside)]
    calls = [node.func for node in ast.walk(parsed(path)) if isinstance(node, ast.Call)]
    assert not [func for func in calls if isinstance(func, ast.Attribute) and func.attr in ("now", "utcnow", "today")]
    assert not [func for func in calls if isinstance(func, ast.Name) and func.id in ("open", "input", "print")]


@pytest.mark.parametrize("path", python_files("shared/run"), ids=module_name)
def test_what_runs_before_the_installation_needs_nothing_installed(path):
    installed = ("django", "dj_database_url", "csp", "axes", "pytest")
    own = [name for name in imports(path) if is_under(name, *APPS)]
    assert not [name for name in imports(path) if is_under(name, *installed)]
    assert not [name for name in own if not is_under(name, "shared.run", "shared.libraries")]
