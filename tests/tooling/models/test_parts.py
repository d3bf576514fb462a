"""Parts by number, and their revisions."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from tooling.models import Part, PartRevision

pytestmark = pytest.mark.django_db


def test_a_number_is_one_part_in_any_case():
    part = Part.objects.create(number="Hull-12")
    assert Part.objects.numbered(" hull-12 ").get() == part
    with pytest.raises(ValidationError):
        Part(number="HULL-12").full_clean()
    with pytest.raises(IntegrityError), transaction.atomic():
        Part.objects.create(number="HULL-12")


def test_a_revision_is_given_once_and_the_newest_came_last():
    part = Part.objects.create(number="HULL-12")
    for revision in ("B", "A", ""):
        PartRevision.objects.create(part=part, revision=revision, name="Hull")
    assert part.revisions.newest_first().first().revision == ""
    with pytest.raises(ValidationError):
        PartRevision(part=part, revision="A", name="Hull").full_clean()
    with pytest.raises(IntegrityError), transaction.atomic():
        PartRevision.objects.create(part=part, revision="A", name="Hull")


@pytest.mark.parametrize("wrong", ["layup_minutes", "in_mold_hours"])
def test_a_time_is_not_below_nothing(wrong):
    part = Part.objects.create(number="HULL-12")
    with pytest.raises(IntegrityError), transaction.atomic():
        PartRevision.objects.create(part=part, name="Hull", **{wrong: -1})
