"""The first deed of a new day seals what was written until then."""

from datetime import date, timedelta
from threading import Barrier, Thread

import pytest
from django.db import connections

from tests.plugin_triggers import lifted
from tests.tooling.rows import NOON, make_tool, write
from tooling.models import Entry, Seal, SealLine, Shop, Summary
from tooling.services import chain, seals

DAY = timedelta(days=1)


def sealed() -> list[tuple[str, str, int]]:
    rows = SealLine.objects.order_by("seal__day", "tool__code").values_list("seal__day", "tool__code", "count")
    return [(day.isoformat(), code, count) for day, code, count in rows]


def found() -> list[str]:
    return [str(finding) for finding in seals.verify()]


@pytest.fixture
def shop(db):
    shop = Shop(name="Shop", time_zone="America/New_York")
    shop.save()
    return shop


@pytest.fixture
def sealed_days(shop):
    """Two tools, three days, the second tool idle on the second."""
    one, two = make_tool("K-1"), make_tool("K-2")
    write(one), write(one), write(two)
    seals.seal_if_new_day(NOON)
    write(one)
    seals.seal_if_new_day(NOON + DAY)
    write(two)
    seals.seal_if_new_day(NOON + 2 * DAY)
    return one


def test_a_seal_covers_what_has_grown_since_the_last(sealed_days):
    assert sealed() == [
        ("2026-03-02", "K-1", 2), ("2026-03-02", "K-2", 1), ("2026-03-03", "K-1", 3), ("2026-03-04", "K-2", 2),
    ]  # fmt: skip
    assert found() == []


def test_a_day_is_sealed_once_with_one_query_from_then_on(sealed_days, django_assert_num_queries):
    write(sealed_days)
    with django_assert_num_queries(1):
        assert seals.seal_if_new_day(NOON + 2 * DAY) is None
    assert Seal.objects.count() == 3


def test_a_clock_set_back_seals_nothing(sealed_days):
    write(sealed_days)
    assert seals.seal_if_new_day(NOON + DAY) is None
    assert seals.seal_if_new_day(NOON - 9 * DAY) is None


def test_a_day_is_the_shops(shop):
    """Three in the morning in UTC is still the evening before in New York."""
    assert seals.seal_if_new_day(NOON.replace(hour=3)).day == date(2026, 3, 1)
    assert seals.seal_if_new_day(NOON.replace(hour=4, minute=59)) is None
    assert seals.seal_if_new_day(NOON.replace(hour=5)).day == date(2026, 3, 2)


@pytest.mark.django_db
def test_before_there_is_a_shop_the_settings_say_the_zone(settings):
    settings.TIME_ZONE = "Asia/Tokyo"
    assert seals.seal_if_new_day(NOON.replace(hour=16)).day == date(2026, 3, 3)
    assert seals.seal_if_new_day(NOON.replace(hour=16)) is None


def test_a_chain_made_anew_does_not_pass_a_seal(sealed_days):
    """Somebody changes an entry and gives the tool a chain that is right in itself."""
    with lifted():
        Entry.objects.filter(tool=sealed_days, number=2).update(count=9)
        previous = chain.beginning(sealed_days.pk)
        for number in (1, 2, 3):
            row = Entry.objects.filter(tool=sealed_days, number=number)
            previous = chain.link(previous, row.values_list(*chain.COLUMNS).get())
            row.update(link=previous)
    Summary.objects.filter(tool=sealed_days).update(head=previous)
    assert list(chain.verify()) == []
    assert found() == ["K-1 2: is not as it was sealed on 2026-03-02", "K-1 3: is not as it was sealed on 2026-03-03"]


def test_a_cut_off_end_does_not_pass_a_seal(sealed_days):
    with lifted():
        Entry.objects.filter(tool=sealed_days, number=3)._raw_delete("default")
    Summary.objects.filter(tool=sealed_days).update(count=2, head=sealed_days.entries.get(number=2).link)
    assert list(chain.verify()) == []
    assert found() == ["K-1 3: is not as it was sealed on 2026-03-03"]


@pytest.mark.parametrize(
    ("model", "change"),
    [
        (Seal, {"day": date(2026, 3, 1)}),
        (Seal, {"made_at": NOON + timedelta(seconds=1)}),
        (Seal, {"digest": "0" * 64}),
        (Seal, {"previous": "0" * 64}),
        (SealLine, {"count": 1}),
        (SealLine, {"head": "0" * 64}),
    ],
    ids=str,
)
def test_a_changed_seal_is_found(sealed_days, model, change):
    second = Seal.objects.get(day=date(2026, 3, 3))
    rows = Seal.objects.filter(pk=second.pk) if model is Seal else SealLine.objects.filter(seal=second)
    with lifted():
        assert rows.update(**change) == 1
    assert found()


def test_a_removed_line_or_seal_is_found(sealed_days):
    second = Seal.objects.get(day=date(2026, 3, 3))
    with lifted():
        second.lines.all()._raw_delete("default")
    assert found() == ["seal of 2026-03-03: was changed after it was made"]
    with lifted():
        Seal.objects.filter(pk=second.pk)._raw_delete("default")
    assert found() == ["seal of 2026-03-04: does not follow the seal before it"]


@pytest.mark.django_db(transaction=True)
def test_two_first_deeds_at_once_make_one_seal():
    tool = make_tool()
    write(tool)
    start, failures = Barrier(4), []

    def deed():
        try:
            start.wait(timeout=10)
            seals.seal_if_new_day(NOON)
        except Exception as failure:
            failures.append(failure)
        finally:
            connections.close_all()

    threads = [Thread(target=deed) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    assert sealed() == [("2026-03-02", "K-1", 1)]


@pytest.mark.django_db
def test_around_midnight_the_later_seal_follows_the_earlier(monkeypatch):
    """The other deed's seal of the day before lands between our look and our write."""
    look, first = seals._grown, []

    def grown():
        if not first:
            first.append(True)
            seals._seal(date(2026, 3, 1), NOON - DAY)
        return look()

    monkeypatch.setattr(seals, "_grown", grown)
    assert seals.seal_if_new_day(NOON).day == date(2026, 3, 2)
    assert found() == []
