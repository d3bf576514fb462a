"""Two leads at once cannot make two tools from each other."""

import threading

import pytest
from django.db import connection, connections

from shared import clock
from shared.errors import Refused
from tooling.models import Tool
from tooling.services import catalogue
from tooling.services.tools import add_tool

AT_ONCE = 20


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_of_two_changes_that_close_a_loop_one_is_refused(lead, monkeypatch):
    a, b = (add_tool(code=code, kind="plug", name=code) for code in ("LA", "LB"))
    both, locked = threading.Barrier(2), catalogue._locked
    monkeypatch.setattr(catalogue, "_locked", lambda keys: (both.wait(AT_ONCE), locked(keys))[1])
    said = []

    def make(tool, origin):
        try:
            catalogue.change_tool(tool, by=lead, at=clock.now(), columns={"made_from": origin})
            said.append("")
        except Refused as refused:
            said.append(refused.field)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=make, args=pair) for pair in ((a, b), (b, a))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(said) == ["", "made_from"]
    assert Tool.objects.exclude(made_from=None).count() == 1
    assert connection.vendor == "postgresql"
