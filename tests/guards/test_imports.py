"""The floors of the house: imports go down, never up."""

import ast

from tests.guards.tree import imports, module_name, parsed, python_files

APPS = ("shared", "tooling", "trimfixtures")
# A floor may import those with a smaller number; selectors and services may import each other.
FLOORS = {
    "calc": 0, "drawing": 1, "models": 2, "words": 3, "selectors": 4, "services": 4, "forms": 5, "templatetags": 5,
    "views": 6, "management": 6,
}  # fmt: skip
# What stands beside the floors: an app's own wiring
BESIDE = (
    "apps", "checks", "migrations", "urls", "urls_catalogue", "urls_containment", "urls_deeds", "urls_holds",
    "urls_keep", "urls_looks", "urls_making", "urls_moving", "urls_people", "urls_pictures", "urls_readings",
    "urls_serials", "urls_tags", "urls_walk", "urls_wanted",
)  # fmt: skip
FILES = python_files(*APPS)
CLOCKS = ("now", "utcnow", "today")


def floor(module: str) -> tuple[str, int] | None:
    """The app and the floor that a dotted name belongs to, if it stands on one."""
    app, _, rest = module.partition(".")
    name = rest.partition(".")[0]
    return (app, FLOORS[name]) if app in APPS and name in FLOORS else None


def without_empty(found: dict[str, list[str]]) -> dict[str, list[str]]:
    """The modules where something was found, so that a failure names all of them at once."""
    return {module: names for module, names in found.items() if names}


def is_under(module: str, *packages: str) -> bool:
    return any(module == package or module.startswith(f"{package}.") for package in packages)


def test_an_app_never_imports_the_one_above():
    found = {}
    for path in FILES:
        app = module_name(path).partition(".")[0]
        above = APPS[APPS.index(app) + 1 :]
        found[module_name(path)] = [name for name in imports(path) if is_under(name, *above)]
    assert without_empty(found) == {}


def test_a_floor_never_imports_one_above():
    found = {}
    for path in FILES:
        own = floor(module_name(path))
        if own is None or "migrations" in path.parts:
            continue
        others = {name: floor(name) for name in imports(path)}
        found[module_name(path)] = [
            name for name, other in others.items() if other is not None and other[0] == own[0] and other[1] > own[1]
        ]
    assert without_empty(found) == {}


def test_every_package_of_an_app_has_its_floor():
    names = {module_name(path).partition(".")[2].partition(".")[0] for path in python_files("tooling", "trimfixtures")}
    assert names - {"", *FLOORS, *BESIDE} == set()


def test_calc_knows_no_django_no_clock_and_no_file():
    outside = ("django", "shared", "os", "io", "pathlib", "socket", "time", "random", "requests", "urllib")
    found = {}
    for path in python_files("tooling/calc", "trimfixtures/calc"):
        calls = [node.func for node in ast.walk(parsed(path)) if isinstance(node, ast.Call)]
        found[module_name(path)] = [
            *(name for name in imports(path) if is_under(name, *outside)),
            *(func.attr for func in calls if isinstance(func, ast.Attribute) and func.attr in CLOCKS),
            *(func.id for func in calls if isinstance(func, ast.Name) and func.id in ("open", "input", "print")),
        ]
    assert found
    assert without_empty(found) == {}


def test_what_runs_before_the_installation_needs_nothing_installed():
    installed = ("django", "dj_database_url", "csp", "axes", "pytest")
    found = {}
    for path in python_files("shared/run"):
        own = [name for name in imports(path) if is_under(name, *APPS)]
        found[module_name(path)] = [
            *(name for name in imports(path) if is_under(name, *installed)),
            *(name for name in own if not is_under(name, "shared.run", "shared.libraries")),
        ]
    assert found
    assert without_empty(found) == {}


def test_an_import_that_goes_up_is_found():
    assert floor("tooling.models.tools") == ("tooling", FLOORS["models"])
    assert floor("tooling.views.board") > floor("tooling.services.tools")
    assert is_under("tooling.views.board", "tooling")
    assert not is_under("toolings", "tooling")
