"""With formal records a tool that was brought back waits to be accepted; without them, and before, it does not."""

from datetime import timedelta
from importlib import import_module

import pytest
from django.apps import apps

from shared.clock import now
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Shop, Span, Summary
from tooling.services import deeds
from tooling.services import shop as shop_services
from tooling.services.shop import change_shop
from tooling.services.whole_check import findings

pytestmark = pytest.mark.django_db
EARLIER = timedelta(minutes=5)


@pytest.fixture
def formal(shop):
    change_shop({"formal_records": True})
    return shop


def waits(tool):
    assert not list(findings())
    return Summary.objects.get(tool=tool).accept_again


def back(tool, **said):
    happened.retire(tool, reason="worn", **said)
    return happened.reinstate(tool, reason="one more", **said)


def test_what_is_brought_back_waits_until_it_is_accepted(formal):
    entry = back(formal.mold)
    assert waits(formal.mold)
    happened.inspect(formal.mold, passed=True)
    accepted = happened.accept(formal.mold)
    assert not waits(formal.mold)
    deeds.void(accepted, reason="the wrong one", by=None, recorded_by=None)
    assert waits(formal.mold)
    deeds.void(entry, reason="the wrong one", by=None, recorded_by=None)
    assert not waits(formal.mold)


def test_it_does_not_where_nothing_was_brought_back(formal):
    happened.reinstate(formal.mold)
    assert not waits(formal.mold), "it was not retired"
    back(formal.mold)
    happened.set_starting_state(formal.mold, prepared="no")
    assert not waits(formal.mold), "a starting state stands for all before it"


def test_what_was_brought_back_before_asks_for_nothing(shop):
    back(shop.mold)
    change_shop({"formal_records": True})
    back(shop.insert, at=now() - EARLIER)
    assert not waits(shop.mold)
    assert not waits(shop.insert)


def test_turned_off_nothing_waits_and_turned_on_it_holds_from_then(formal):
    back(formal.mold)
    happened.inspect(formal.mold, passed=True)
    first = Shop.current().formal_since
    assert Span.objects.filter(tool=formal.mold, group="").exists(), "it is in no group of the morning"
    change_shop({"formal_records": False})
    assert Shop.current().formal_since is None
    assert not waits(formal.mold)
    assert Span.objects.filter(tool=formal.mold, group="wax").exists()
    change_shop({"formal_records": True})
    assert Shop.current().formal_since > first
    assert not waits(formal.mold)


def test_a_shop_from_before_has_them_on_since_it_was_brought_up_to_date(shop):
    Shop.objects.update(formal_records=True)
    import_module("tooling.migrations.0038_accepted_again").since_now(apps, None)
    assert Shop.current().formal_since is not None


def test_turning_them_off_looks_at_what_is_being_brought_back_as_well(formal, monkeypatch):
    """The tool that waits already, and one that somebody else may be bringing back behind a lock."""
    back(formal.mold)
    happened.retire(formal.insert, reason="worn")
    asked = []
    monkeypatch.setattr(shop_services, "relay", asked.extend)
    change_shop({"formal_records": False})
    assert set(asked) == {formal.mold.pk, formal.insert.pk}
