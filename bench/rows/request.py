"""Whole requests: Find page and morning board, signed in, beside a view that sends the same rows as plain JSON, and the
Find page beside a change list of Django's admin."""

import sqlite3
from collections.abc import Callable, Iterator
from io import BytesIO
from typing import Any
from wsgiref.util import setup_testing_defaults

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.core.management import call_command
from django.core.wsgi import get_wsgi_application
from django.db import connection
from django.test import override_settings

from bench import shops
from bench.measure import Row, in_turn
from bench.rows.board import keys, on_board
from bench.synth.make import END
from shared import clock
from tooling.models import Person, Tool
from tooling.selectors.board import board
from tooling.selectors.tools import look
from tooling.views.tools import PAGE

# Those that a new project of Django's has.
PLAIN = [
    "django.middleware.security.SecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
# Only what the page says of each tool, already known which they are.
SHOWN = """
SELECT code, name, kind, status, pulls_left, ready_at, detail, state, making, step, since_coat, total_pulls, home_id
FROM tooling_tool JOIN tooling_summary ON tooling_summary.tool_id = tooling_tool.id
JOIN tooling_span ON tooling_span.tool_id = tooling_tool.id AND from_at <= ? AND (until_at IS NULL OR until_at > ?)
WHERE tooling_tool.id IN ({places})
"""


def measure() -> Iterator[Row]:
    """Each page against its rows as JSON; then Find against the change list."""
    cookie = signed_in(Person.objects.filter(role="lead").first() or Person.objects.create_person("Lead", "lead"))
    of = f"of {Tool.objects.count():,} tools"
    page = keys(look(Tool.objects.all(), "", END, size=PAGE).rows)
    shown = keys(on_board(board(END)))
    with in_place():
        program = get_wsgi_application()
        with override_settings(MIDDLEWARE=PLAIN):
            plain = get_wsgi_application()
        find, morning = asked(program, "/tools/", cookie), asked(program, "/", cookie)
        listed = asked(program, "/bench/admin/tooling/tool/", cookie)
        with clock.set_to(END):
            yield in_turn(Row(f"request of the find page, {PAGE} rows {of}", 25), find, as_json(plain, page))
            yield in_turn(Row(f"request of the board, {len(shown)} rows {of}", 25), morning, as_json(plain, shown))
            yield in_turn(Row(f"request of the find page {of} / admin change list", 0.2), find, listed)


def in_place() -> Any:
    """The program as it is served, its sheets collected, and beside it the addresses that it is measured against."""
    apps = [*settings.INSTALLED_APPS, "django.contrib.admin.apps.SimpleAdminConfig"]
    place = override_settings(STATIC_ROOT=shops.FOLDER / "static", ROOT_URLCONF="bench.beside", INSTALLED_APPS=apps)
    with place:
        call_command("collectstatic", interactive=False, verbosity=0)
    return place


def signed_in(person: Person) -> str:
    """The cookie of somebody who signed in."""
    session = SessionStore()
    session[SESSION_KEY], session[HASH_SESSION_KEY] = str(person.pk), person.get_session_auth_hash()
    session[BACKEND_SESSION_KEY] = "shared.access.RoleBackend"
    session.create()
    return f"{settings.SESSION_COOKIE_NAME}={session.session_key}"


def asked(program: Callable[..., Any], path: str, cookie: str = "", query: str = "") -> Callable[[], bytes]:
    """A request as a server passes it on, answered in full."""
    environ: dict[str, Any] = {
        "PATH_INFO": path,
        "HTTP_HOST": "127.0.0.1",
        "HTTP_COOKIE": cookie,
        "QUERY_STRING": query,
    }
    setup_testing_defaults(environ)

    def ask() -> bytes:
        said: list[str] = []
        reply = program({**environ, "wsgi.input": BytesIO()}, lambda status, headers: said.append(status))
        body = b"".join(reply)
        reply.close()
        if said != ["200 OK"]:
            raise AssertionError(f"{path}: {said}")
        return body

    return ask


def as_json(program: Callable[..., Any], shown: list[int]) -> Callable[[], bytes]:
    """The rows of these tools by raw SQL, sent as JSON by a view that does nothing else."""
    from bench import beside

    now = str(END.replace(tzinfo=None))
    raw = sqlite3.connect(connection.settings_dict["NAME"])
    sql, params = SHOWN.format(places=", ".join("?" * len(shown))), (now, now, *shown)
    beside.fetch = lambda: raw.execute(sql, params).fetchall()
    return asked(program, "/bench/json/")
