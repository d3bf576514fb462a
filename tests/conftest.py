"""What every test may use, and what is said about tests that did not run."""

import gc
import os

import hypothesis
import pytest
from django.conf import settings

pytest_plugins = ["tests.plugin_triggers", "tests.plugin_counts"]

# Examples of each invariant; `make faults` looks at ten times as many.
hypothesis.settings.register_profile("shop", max_examples=int(os.environ.get("EXAMPLES", 50)), deadline=None)
hypothesis.settings.load_profile("shop")

# Each of the many collections of a run goes through all that Django and pytest hold, and finds next to nothing.
gc.set_threshold(100_000, 50, 100)

REQUIRE_ALL = os.environ.get("REQUIRE_ALL") == "1"
ON_POSTGRESQL = settings.DATABASES["default"]["ENGINE"].endswith("postgresql")
TELLS_THE_DEMO = "test_demo.py"
# What pages, words and drawings say is the same on every database. PostgreSQL opens each page once
# (tests/tooling/views/test_on_postgresql.py), and runs what is marked `both` besides.
SAYS_NOTHING_ABOUT_IT = {"views", "words", "drawing", "templatetags", "guards"}
# Nor do these: how an upload and a cell are read and named before anything is written, what is told and not written,
# what comes out as paper, times that are reckoned from what was read. What they write others write on both.
ALIKE_ON_BOTH = (
    "tests/tooling/moving_in/",
    "tests/tooling/sheets/test_cells.py", "tests/tooling/sheets/test_files.py", "tests/tooling/sheets/test_bad_rows.py",
    "tests/tooling/sheets/test_cases_through_import.py",  # through deeds on both
    "tests/fixtures/test_diary.py", "tests/tooling/commands/test_tags.py",
    "tests/tooling/commands/test_add_pictures.py", "tests/tooling/selectors/test_lay_up_from.py",
    "tests/tooling/selectors/test_cannot_lay_up.py",
    "tests/tooling/services/test_printing.py",
)  # fmt: skip
TOUCHES_DATABASE = {"db", "transactional_db", "client", "admin_client", "live_server", "django_db_setup"}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--database-only", action="store_true", help="only tests that touch the database, without those in a browser"
    )


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "postgresql: this says something about PostgreSQL only")
    config.addinivalue_line("markers", "bad_connection: requests of the browser fail here, and it may say so")
    config.addinivalue_line("markers", "both: of a page, and yet about the database: runs on PostgreSQL as well")
    config.addinivalue_line("markers", "sqlite: this says something about SQLite only")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what this run is not about: the other database, and with --database-only all that needs none or says
    nothing about PostgreSQL.

    What tells the demo comes first: a process that wants it meanwhile would stand and wait.
    """
    other = "sqlite" if ON_POSTGRESQL else "postgresql"
    wanted, others = [], []
    for item in items:
        left_out = item.get_closest_marker(other) or (config.getoption("--database-only") and not is_about_it(item))
        (others if left_out else wanted).append(item)
    items[:] = sorted(wanted, key=lambda item: item.path.name != TELLS_THE_DEMO)
    config.hook.pytest_deselected(items=others)


def is_about_it(item: pytest.Item) -> bool:
    """Whether the run for the database alone has a use for this test."""
    folders = item.nodeid.partition("::")[0].split("/")
    if ON_POSTGRESQL and (SAYS_NOTHING_ABOUT_IT.intersection(folders) or item.nodeid.startswith(ALIKE_ON_BOTH)):
        return any(item.get_closest_marker(name) for name in ("both", "postgresql"))
    return needs_database(item)


def needs_database(item: pytest.Item) -> bool:
    """Whether the test says that it reads or writes the database, outside a browser."""
    if "browser" in item.path.parts:
        return False
    fixtures = set(getattr(item, "fixturenames", ()))
    return bool(item.get_closest_marker("django_db")) or bool(fixtures & TOUCHES_DATABASE)


@pytest.hookimpl(trylast=True)
def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """One line on what was not run and why."""
    reasons: dict[str, int] = {}
    for report in terminalreporter.stats.get("skipped", []):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else str(report.longrepr)
        reason = reason.removeprefix("Skipped: ")
        reasons[reason] = reasons.get(reason, 0) + 1
    left = [f"{count} for: {reason}" for reason, count in sorted(reasons.items())]
    if not ON_POSTGRESQL:
        left.append("what is about PostgreSQL only (.ci/run runs it)")
    terminalreporter.write_line(f"Not run: {'; '.join(left) or 'nothing was left out'}.")


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """Where everything is required, a test that was skipped has failed."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter else []
    if REQUIRE_ALL and skipped and exitstatus == pytest.ExitCode.OK:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


@pytest.fixture(scope="session", autouse=True)
def shelf_of_the_run(tmp_path_factory: pytest.TempPathFactory) -> None:
    """All processes of a run keep the demo, once it is told, in the same folder."""
    from tests.fixtures import shelf

    own = tmp_path_factory.getbasetemp()
    shelf.place[:] = [(own.parent if "PYTEST_XDIST_WORKER" in os.environ else own) / "shelf"]


def _person_of(role: str):
    @pytest.fixture(name=role)
    def person(db):
        from tooling.models import Person

        return Person.objects.create_person(f"Test {role}", role, "long enough for a test")

    return person


# One signed-up person a role: reader, hand, station, lead. Sign them in with client.force_login(hand).
reader, hand, station, lead = (_person_of(role) for role in ("reader", "hand", "station", "lead"))
