"""A shop that has loans and steps already gets their new columns filled in when it is brought up to date."""

from datetime import date, timedelta
from importlib import import_module

import pytest
from django.apps import apps

from tests.tooling.views import works
from tests.tooling.views.conftest import morning as morning
from tests.tooling.views.works import NOW, do, mold
from tooling.models import Summary
from tooling.services import deeds
from tooling.services.whole_check import findings

pytestmark = [pytest.mark.django_db, pytest.mark.both]

fill = import_module("tooling.migrations.0034_racks_and_making").until_when
UNTIL = (NOW + timedelta(days=9)).date()


@pytest.fixture
def shop(morning):
    tools = {code: mold(code, morning, pulls=None) for code in ("LENT", "LATER", "OPEN", "BACK", "STEPS", "AGAIN")}
    lent = {
        code: do("lend", tools[code], person="Heron", until=UNTIL, at=works.ago(days=4)) for code in ("LENT", "BACK")
    }
    first = do("lend", tools["LATER"], person="Heron", until=UNTIL, at=works.ago(days=4))
    deeds.correct(first, reason="a day more", changes={"until": UNTIL + timedelta(days=1)}, by=None, recorded_by=None)
    do("lend", tools["OPEN"], person="Heron", at=works.ago(days=3))
    do("hand_back", lent["BACK"].tool, at=works.ago(days=2))
    for days, step in ((9, "Filled"), (8, "Sanded"), (6, "Sanded")):
        do("make_step", tools["STEPS"], step=step, at=works.ago(days=days))
    for days, name, said in ((9, "make_step", "Sanded"), (7, "accept", None), (5, "make_step", "Sanded")):
        do(name, tools["AGAIN"], at=works.ago(days=days), **({"step": said} if said else {}))
    return tools


def kept():
    found = Summary.objects.values_list("tool__code", "lent_until", "step_at")
    return {code: (until, at) for code, until, at in found}


def test_what_was_lent_and_how_far_each_was_is_filled_in(shop):
    stood = kept()
    Summary.objects.filter(lent=True).update(lent_until=None)
    Summary.objects.filter(making=True).update(step_at=NOW)
    fill(apps, None)
    assert kept() == stood
    assert stood["LENT"][0] == UNTIL
    assert (stood["LATER"][0], stood["OPEN"][0], stood["BACK"][0]) == (UNTIL + timedelta(days=1), None, None)
    assert stood["STEPS"][1] == works.ago(days=8)
    assert stood["AGAIN"][1] == works.ago(days=5)
    assert isinstance(stood["LENT"][0], date)
    assert not list(findings())
