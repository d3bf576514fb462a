"""What is no whole backup of this program is refused with a sentence, before anything is touched."""

import json
import random
import tracemalloc
import zipfile

import pytest

from shared.errors import Refused
from tests.tooling.backup.packs import changed, rows_told, told
from tests.tooling.pictures import stored
from tooling.services.backup.unpacking import opened
from tooling.services.backup.writing import back_up

pytestmark = pytest.mark.django_db(transaction=True)
FLIPS = 200
_made: list[bytes] = []
DAMAGED = "is damaged and cannot be used"
SHOP, ENTRIES = "rows/tooling.shop.jsonl", "rows/tooling.entry.jsonl"


@pytest.fixture
def backup(request, tmp_path):
    """The file of a backup. Nothing here changes a shop, so that one is enough for all tests."""
    if not _made:
        request.getfixturevalue("shop")
        _made.append(back_up(tmp_path / "first.zip").path.read_bytes())
    path = tmp_path / "shop.zip"
    path.write_bytes(_made[0])
    return path


def verify(path):
    with opened(path) as backup:
        backup.verify(lambda *_: None)


def test_a_whole_backup_is_taken(backup):
    verify(backup)
    verify(changed(backup, lambda content: None))


def test_a_byte_that_flipped_anywhere_is_noticed(backup, tmp_path):
    rng = random.Random(20)
    whole = backup.read_bytes()
    bad = tmp_path / "bad.zip"
    piece = len(whole) / FLIPS
    for number in range(FLIPS):
        place = min(int(piece * (number + rng.random())), len(whole) - 1)
        bad.write_bytes(whole[:place] + bytes([whole[place] ^ 1 << rng.randrange(8)]) + whole[place + 1 :])
        with pytest.raises(Refused):
            verify(bad)


def test_a_file_that_was_cut_or_has_more_behind_its_end_is_refused(backup, tmp_path):
    rng = random.Random(21)
    whole = backup.read_bytes()
    bad = tmp_path / "bad.zip"
    for length in [0, 1, 60, len(whole) - 1, len(whole) - 64, *rng.sample(range(len(whole)), 20)]:
        bad.write_bytes(whole[:length])
        with pytest.raises(Refused, match=r"is cut off|is no backup"):
            verify(bad)
    bad.write_bytes(whole + b"\n")
    with pytest.raises(Refused, match="something was put behind its end"):
        verify(bad)


def test_other_files_are_no_backup(tmp_path):
    other = tmp_path / "other"
    with zipfile.ZipFile(other.with_suffix(".zip"), "w") as packed:
        packed.writestr("letter.txt", "Dear shop")
    other.with_suffix(".txt").write_text("Dear shop")
    other.with_suffix(".none").touch()
    for ending in (".zip", ".txt", ".none"):
        with pytest.raises(Refused, match="is no backup of a shop by this program"):
            verify(other.with_suffix(ending))
    for path in (tmp_path, tmp_path / "absent.zip"):
        with pytest.raises(Refused, match="cannot be read"):
            verify(path)


def test_a_newer_backup_names_what_is_newer(backup):
    with pytest.raises(Refused, match=r"newer version of the program \(its format is 2"):
        verify(changed(backup, lambda content: told(content, format=2)))
    migrations = {"tooling": ["0001_initial", "9999_wings"]}
    with pytest.raises(Refused, match=r"newer version of the program: its shop went through tooling\.9999_wings"):
        verify(changed(backup, lambda content: told(content, migrations=migrations)))
    with pytest.raises(Refused, match="newer version"):
        verify(changed(backup, lambda content: told(content, migrations={"wings": ["0001_initial"]})))


def test_tables_of_another_program_are_refused(backup):
    for migrations in ({"tooling": ["0001_initial"]}, {}):
        with pytest.raises(Refused, match="by another program than this"):
            verify(changed(backup, lambda content, m=migrations: told(content, migrations=m)))


def line_of(content, name, number=0):
    return json.loads(content[name].splitlines()[number])


def reword(content, **values):
    """Another row of the shop, told as if it belonged there."""
    row = line_of(content, SHOP)
    for place, value in values.items():
        row[int(place.removeprefix("at"))] = value
    content[SHOP] = json.dumps(row).encode() + b"\n"
    rows_told(content, "tooling.shop")


WRONG = {
    "a changed row": lambda c: c.update({SHOP: c[SHOP].replace(b"Faults", b"Fawlts")}),
    "a row less": lambda c: c.update({ENTRIES: c[ENTRIES].partition(b"\n")[2]}),
    "no rows at all": lambda c: c.pop(ENTRIES),
    "a column less": lambda c: reword(c) or c.update({SHOP: b"[1]\n"}) or rows_told(c, "tooling.shop"),
    "a row that is none": lambda c: c.update({SHOP: b"{}\n"}) or rows_told(c, "tooling.shop"),
    "a last line without an end": lambda c: c.update({SHOP: c[SHOP].rstrip()}) or rows_told(c, "tooling.shop"),
    "a text for a number": lambda c: reword(c, at0="1"),
    "a deep nest": lambda c: c.update({SHOP: b"[" * 100_000 + b"\n"}) or rows_told(c, "tooling.shop"),
    "a manifest that is none": lambda c: c.update({"manifest.json": b"[]"}),
    "a manifest without tables": lambda c: c.update({"manifest.json": b'{"format": 1}'}),
    "counts that are none": lambda c: told(c, pictures=-1),
    "names that are none": lambda c: told(c, migrations={"tooling": [7]}),
    "a picture less": lambda c: c.pop(a_picture(c)),
    "a picture that nobody names": lambda c: c.update({f"pictures/{'0' * 64}": b"x"}),
    "a picture with another name": lambda c: c.update({f"pictures/{'0' * 64}": c.pop(a_picture(c))}),
    "a changed picture": lambda c: c.update({a_picture(c): bytes(len(c[a_picture(c)]))}),
    "a way out of the folder": lambda c: c.update({"../../outside.txt": b"x"}),
    "a way from the root": lambda c: c.update({"/outside.txt": b"x"}),
    "a way out by a picture": lambda c: c.update({"pictures/../../outside.txt": b"x"}),
    "a file of somebody else": lambda c: c.update({"rows/other.jsonl": b""}),
}


def a_picture(content):
    return next(name for name in content if name.startswith("pictures/"))


@pytest.mark.parametrize("what", WRONG)
def test_what_does_not_bear_itself_out_is_damaged(backup, what):
    before = stored()
    with pytest.raises(Refused, match=DAMAGED):
        verify(changed(backup, WRONG[what]))
    assert stored() == before
    assert not list(backup.parent.rglob("outside*"))


def test_a_name_twice_is_damaged(backup):
    with pytest.warns(UserWarning, match="Duplicate"):
        twice = changed(backup, lambda content: None, SHOP)
    with pytest.raises(Refused, match=DAMAGED):
        verify(twice)


def test_a_line_without_an_end_costs_no_memory(backup):
    """Packed it is small: a hundred megabytes of one letter."""

    def blow_up(content):
        content[SHOP] = b'["' + b"a" * (100 << 20)
        rows_told(content, "tooling.shop")

    bomb = changed(backup, blow_up)
    assert bomb.stat().st_size < 1 << 20
    tracemalloc.start()
    try:
        with pytest.raises(Refused, match=DAMAGED):
            verify(bomb)
        assert tracemalloc.get_traced_memory()[1] < 64 << 20
    finally:
        tracemalloc.stop()


def test_a_picture_that_unpacks_to_more_than_a_picture_costs_no_memory(backup):
    def blow_up(content):
        name = a_picture(content)
        told(content, picture_bytes=sum(len(content[n]) for n in content if n.startswith("pictures/") and n != name))
        content[name] = bytes(200 << 20)

    bomb = changed(backup, blow_up)
    with pytest.raises(Refused, match=DAMAGED):
        verify(bomb)
