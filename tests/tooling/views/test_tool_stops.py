"""The page of a tool that the tool sets it is in stop: it never says that it can be laid up, and what mends it."""

import pytest

from tests.tooling.views.works import NOW, ago, do, mold
from tooling.models import Kind, Part, PartRevision, SetLine, Shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def hull(morning, sign_in):
    """A mold that is ready, and a box of its part's set that is coated and on the bench."""
    sign_in("hand")
    Shop.objects.update(week="Mon-Sun 00:00-24:00", hands=1)
    tools = mold("HULL", morning), mold("BOX", morning, kind=Kind.INSERT)
    needs("SK-HULL", *tools)
    return tools


def needs(number, *tools):
    revision = PartRevision.objects.create(part=Part.objects.create(number=number), revision="A", name=number)
    for tool in tools:
        SetLine.objects.create(revision=revision, role=tool.kind, tool=tool)


def opened(client):
    page = client.get("/tools/HULL/")
    deed = page.text.partition('<div class="deeds">')[2].partition("</a>")[0]
    return str(page.context["said"]), " ".join(page.text.split()), deed


def test_a_missing_insert_comes_first_and_its_mend_before_the_lay_up(client, hull):
    said, text, first = opened(client)
    assert said == "BOX: It is not in HULL."
    assert ("/tools/BOX/installed/" in first, "Start lay-up" in text, "big first" in first) == (True, True, True)
    assert '<a class="nb" href="/parts/SK-HULL/">SK-HULL</a>:' in text
    do("install", hull[1], at=ago(minutes=1), mold=hull[0])
    said, text, first = opened(client)
    assert (said.startswith("Ready"), "Start lay-up" in first, "SK-HULL</a>:" in text) == (True, True, False)


def test_while_its_coat_cures_it_does_not_say_that_it_can_be_laid_up(client, hull, morning):
    morning.versions.update(cure_hours_touch_up=2, cure_hours_preparation=2)
    do("log_coat", hull[0], at=NOW)
    assert "The coat on HULL cures until 09:40." in opened(client)[1]
    assert "an be laid up from 09:40" not in opened(client)[1].partition("SK-HULL</a>:")[0]


def test_of_several_parts_it_says_which_it_may_not_be_used_for(client, hull):
    needs("SK-OPEN", hull[0])
    said, text, first = opened(client)
    assert (said.startswith("Ready"), "Start lay-up" in first) == (True, True)
    assert "SK-HULL</a>: <span" in text
    do("lend", hull[0], at=NOW, person="Yard")
    assert opened(client)[0] == "No go for any of its parts."
    said = client.get("/tools/HULL/").context["stops"].said
    assert [(one.part, one.of) for one in said] == [("", ""), ("SK-HULL", "BOX")]
