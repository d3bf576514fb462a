"""The clock of the pages' tests, where they ask for it."""

import pytest
import time_machine

from tests.tooling.views import works


@pytest.fixture
def morning(db):
    """It is 07:40 on a Tuesday in the shop, and stays so. Returns the paste wax of the shop."""
    with time_machine.travel(works.NOW, tick=False):
        yield works.open_shop()


@pytest.fixture
def sign_in(client, request):
    """Signs somebody of a role in, with other columns if any are said, and gives the client back."""

    def signed_in(role, **columns):
        person = request.getfixturevalue(role)
        if columns:
            type(person).objects.filter(pk=person.pk).update(**columns)
        client.force_login(person, backend="shared.access.RoleBackend")
        return client

    return signed_in
