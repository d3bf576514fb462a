"""Rights: who might, on which day, and what was known of it; and a look that frees."""

from datetime import UTC, date, datetime, timedelta

import pytest

from shared.clock import now
from shared.errors import Refused
from tests.tooling.views.deeds.conftest import happened
from tests.tooling.views.deeds.conftest import shop as shop
from tooling.models import Entry, Flag, Person, Shop, Summary
from tooling.selectors.rights import asked_for, might, right_of, who_might
from tooling.services import deeds
from tooling.services.rights import end, give, refuse_without

pytestmark = pytest.mark.django_db
AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
MAY, JUNE, JULY = date(2026, 5, 1), date(2026, 6, 1), date(2026, 7, 1)


@pytest.fixture
def formal(shop):
    Shop.objects.update(formal_records=True)
    return shop


def refused(deed, *args, **said):
    with pytest.raises(Refused) as met:
        deed(*args, **said)
    return met.value


def test_before_anybody_has_the_right_the_role_decides(formal, hand, lead, reader, station):
    people = (hand, lead, reader, station)
    assert [might(one, "free", MAY) for one in people] == [True, True, False, False]
    assert [might(one, "accept", MAY) for one in people] == [False, True, False, False]
    assert [one for one, _right in who_might("free", MAY).people] == [lead, hand]
    assert not asked_for("free")
    refuse_without(hand, "free", AT)


def test_from_the_first_right_on_only_who_has_it(formal, hand, lead):
    right = give(hand, "free", since=JUNE, by=lead, at=AT)
    assert (asked_for("free"), asked_for("free", MAY), asked_for("accept")) == (True, False, False)
    assert [might(one, "free", JUNE) for one in (hand, lead)] == [True, False]
    assert might(lead, "free", MAY), "in May nobody had it yet"
    assert who_might("free", JULY).people == [(hand, right)]
    Shop.objects.update(formal_records=False)
    assert might(lead, "free", JUNE)
    without = who_might("free", JULY)
    assert ([one for one, _right in without.people], without.given) == ([lead, hand], [(hand, right)])


def test_a_day_before_the_first_right_goes_by_the_role(formal, hand, lead):
    give(lead, "accept", since=JUNE, by=lead, at=AT)
    may = datetime(2026, 5, 20, 9, 0, tzinfo=UTC)
    assert refused(refuse_without, hand, "accept", may).field == "by"
    assert refused(refuse_without, None, "accept", may).field == "by"
    refuse_without(lead, "accept", may)


def test_a_right_is_wanted_on_the_day_of_the_deed_and_on_that_of_writing_it(formal, hand, lead):
    today = now().date()
    give(hand, "free", since=today, by=lead, at=AT)
    before = now() - timedelta(days=2)
    refuse_without(hand, "free", before)
    assert "has no right to free a tool on" in refused(refuse_without, lead, "free", before).message
    right = give(lead, "accept", since=today - timedelta(days=9), by=lead, at=AT)
    end(right, until=today - timedelta(days=1), by=lead, at=AT)
    assert refused(refuse_without, lead, "accept", before).field == "by"


def test_a_right_ends_and_what_was_known_before_is_kept(formal, hand, lead):
    right = give(hand, "free", since=MAY, by=lead, at=AT)
    end(right, until=JUNE, by=lead, at=AT + timedelta(days=100))
    assert [might(hand, "free", day) for day in (MAY, JUNE, JULY)] == [True, True, False]
    assert right_of(hand, "free", JULY, known_at=AT + timedelta(days=99))
    assert not right_of(hand, "free", JUNE, known_at=AT - timedelta(days=1))
    assert right_of(hand, "free", JUNE) == right
    end(right, until=MAY, by=lead, at=AT + timedelta(days=200))
    assert not right_of(hand, "free", JULY, known_at=AT + timedelta(days=150)), "it had ended by then"
    assert right_of(hand, "free", JUNE, known_at=AT + timedelta(days=150)) == right
    assert not right_of(hand, "free", JUNE)


def test_what_cannot_be_is_refused_and_gives_nothing(shop, hand, lead, station):
    right = give(hand, "free", since=MAY, until=JULY, by=lead, at=AT)
    said = {"by": lead, "at": AT}
    assert refused(give, station, "free", since=MAY, **said).field == "person"
    assert refused(give, hand, "all", since=MAY, **said).field == "may"
    assert refused(give, hand, "accept", since=JUNE, until=MAY, **said).field == "until"
    assert "from 1 May 2026 to 1 Jul 2026" in refused(give, hand, "free", since=JUNE, **said).message
    assert refused(give, hand, "free", since=date(1026, 5, 1), **said).field == "since"
    assert refused(end, right, until=MAY - timedelta(days=1), **said).field == "until"
    assert refused(end, right, until=JULY + timedelta(days=1), **said).field == "until"
    assert refused(end, right, until=date(9999, 12, 31), **said).field == "until"
    assert list(hand.rights.all()) == [right]


def test_with_formal_records_only_who_has_the_right_frees(formal, hand, lead):
    other = Person.objects.named("Mara")
    today = now().date()
    give(lead, "free", since=today - timedelta(days=9), by=lead, at=AT)
    deeds.hold(formal.mold, by=other, recorded_by=other)
    said = refused(deeds.inspect, formal.mold, passed=True, by=hand, recorded_by=hand)
    assert (said.field, "Test hand has no right to free a tool" in said.message) == ("by", True)
    said = refused(deeds.inspect, formal.mold, passed=True, to_free=True, by=lead, recorded_by=hand)
    assert "Nor can it be written down for Test lead" in said.message
    deeds.inspect(formal.mold, passed=False, by=hand, recorded_by=hand)
    said = refused(deeds.inspect, formal.mold, passed=True, to_free=True, by=lead, recorded_by=other)
    assert "held it and cannot write down for Test lead that it is free" in said.message
    deeds.inspect(formal.mold, passed=True, by=lead, recorded_by=lead)
    assert Summary.objects.get(tool=formal.mold).held_since is None


def test_a_look_from_before_the_hold_frees_nothing(shop):
    happened.hold(shop.mold, at=now() - timedelta(hours=1))
    before = now() - timedelta(hours=2)
    said = refused(happened.inspect, shop.mold, passed=True, to_free=True, at=before)
    assert (said.field, "it would free nothing" in said.message) == ("at", True)
    assert refused(happened.inspect, shop.mold, passed=True, to_free=True, ago=timedelta(hours=2)).field == "at"
    assert not Entry.objects.filter(kind="inspected").exists()
    happened.inspect(shop.mold, passed=True, at=before)
    assert Flag.objects.filter(flag="not_on_hold").exists()
    happened.inspect(shop.mold, passed=True, to_free=True, at=now() - timedelta(minutes=5))
    assert Summary.objects.get(tool=shop.mold).held_since is None


def test_who_held_it_frees_it_neither_by_a_correction_nor_by_a_void(formal, hand, lead, monkeypatch):
    def said(who):
        return {"by": who, "recorded_by": who}

    other = Person.objects.named("Mara")
    first = deeds.hold(formal.mold, at=now() - timedelta(hours=1), **said(lead))
    again = deeds.correct(first, reason="it was not me", changes={}, by=hand, recorded_by=lead)
    assert refused(deeds.inspect, formal.mold, passed=True, to_free=True, **said(lead)).field == "by"
    looked = deeds.inspect(formal.mold, passed=False, **said(other))
    assert refused(deeds.correct, looked, reason="fine", changes={"passed": True}, **said(other)).field == "by"
    deeds.void(looked, reason="wrong tap", **said(other))
    monkeypatch.setattr("tooling.services.standing_rules.TAKEN_BACK_WITHIN", timedelta())
    assert "cannot void" in refused(deeds.void, again, reason="nothing", **said(lead)).message
    deeds.inspect(formal.mold, passed=True, **said(other))
    assert Summary.objects.get(tool=formal.mold).held_since is None
