"""Adds up what made-up histories met, prints it at the end, and fails the run where something never occurred.

A test reports with `record_property("occurred", [[group, name, times], ...])`, and says what must occur at least once
by `record_property("must_occur", [[group, name], ...])` and in how many tests that is counted by "of_tests".
"""

from collections import Counter

import pytest

_occurred: Counter[tuple[str, str]] = Counter()
_must: set[tuple[str, str]] = set()
_tests: list[int] = []  # how many tests belong together, once for each that has run


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Each test's report passes here once, from whichever process ran it."""
    if report.when != "call":
        return
    for name, value in report.user_properties:
        if name == "occurred":
            _occurred.update({(group, what): times for group, what, times in value})
        elif name == "must_occur":
            _must.update(tuple(pair) for pair in value)
        elif name == "of_tests":
            _tests.append(value)


def _never() -> list[str]:
    """What must occur and did not; nothing is said before all tests that count have run."""
    if not _tests or len(_tests) < _tests[0]:
        return []
    return sorted(f"{group} {what}" for group, what in _must - _occurred.keys())


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """One line a group."""
    groups: dict[str, list[str]] = {}
    for (group, what), times in sorted(_occurred.items()):
        groups.setdefault(group, []).append(f"{what} {times}")
    for group, told in groups.items():
        terminalreporter.write_line(f"{group}: {', '.join(told)}")
    if never := _never():
        terminalreporter.write_line(f"never occurred: {', '.join(never)}", red=True)


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """A status, flag or refusal that no history met has not been tested."""
    is_worker = hasattr(session.config, "workerinput")
    if exitstatus == pytest.ExitCode.OK and not is_worker and _never():
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
