"""A refusal that no view caught still becomes a page that says why."""

import pytest
from django.http import HttpResponse
from django.test import RequestFactory

from shared.errors import Refused, TokenReused
from shared.refusals import RefusalMiddleware


@pytest.mark.parametrize(("error", "status"), [(TokenReused("Sent before."), 409), (Refused("Strip it first."), 400)])
def test_a_refusal_becomes_a_page(error, status, db):
    middleware = RefusalMiddleware(lambda request: HttpResponse())
    reply = middleware.process_exception(RequestFactory().post("/"), error)
    assert reply.status_code == status
    assert error.message in reply.content.decode()


def test_anything_else_is_somebody_elses(db):
    middleware = RefusalMiddleware(lambda request: HttpResponse())
    assert middleware.process_exception(RequestFactory().get("/"), ValueError()) is None
