"""A spreadsheet of a shop's own, as far as each page of moving in has it."""

from django.urls import reverse

from tests.tooling.moving_in.uploads import agree, book, run, take_up
from tooling.models import Job, MovingIn, Person

ROWS = (
    ("Tool no.", "What", "Type", "Shelf", "Last waxed", "Pulls since"),
    ("KAY 7/A", "Kayak 470, deck", "mold", "B-1", "2026-02-03", 3),
    ("KAY 8", "Kayak 470, hull", "upper half", "B-1", "2026-02-30", "many"),
    ("KAY 9", "Kayak 470, bulkhead", "mold", "LOFT-9", "", ""),
)


def to_match() -> str:
    return reverse("import_match", kwargs={"number": _taken_up().pk})


def to_say_words() -> str:
    return reverse("import_words", kwargs={"number": _tried().pk})


def tried() -> str:
    return reverse("import_one", kwargs={"number": _tried().pk})


def a_job() -> str:
    return reverse("job", kwargs={"number": Job.objects.latest("pk").pk})


def _taken_up() -> MovingIn:
    waiting = MovingIn.objects.first()
    return waiting or take_up(Person.objects.named("Ines"), ("tools of ours.xlsx", book(Molds=ROWS)))


def _tried() -> MovingIn:
    moving = _taken_up()
    if moving.report is None:
        agree(moving)
        run(moving, Person.objects.named("Ines"))
    return moving
