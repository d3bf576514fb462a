"""What a camera wrote becomes three plain upright JPEGs; anything else is refused, in little memory."""

import io
import json
import os
import subprocess
import sys

import pytest
from PIL import Image, ImageFile, ImageStat

from shared import images
from shared.errors import Refused
from tests.guards.tree import ROOT
from tests.shared.colour_profile import wide_profile
from tests.shared.hostile_pictures import HOSTILE, png, resized_header
from tests.shared.phone_pictures import SECRET, is_upright, notes, seen, thirty, write

# Each picture in a process of its own, which has all that it needs from the one that it comes from: what was said, and
# how many MB more than before it took at its highest; null where it ended badly.
MEASURED = """
import json, os, re, resource, sys
import django
django.setup()
from shared import images
from shared.errors import Refused
images.Image.preinit()
def highest():
    if sys.platform == "darwin":
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1 << 20)
    # what getrusage says begins on Linux with the memory of the process that started this one
    return int(re.search(r"VmHWM:\\s*(\\d+)", open("/proc/self/status").read()).group(1)) / 1024
def measured(path):
    before, said = highest(), ""
    with open(path, "rb") as file:
        try:
            images.three_sizes(file)
        except Refused as refused:
            said = refused.message
    return [said, highest() - before]
for line in sys.stdin:
    child = os.fork()
    if not child:
        print(json.dumps(measured(line.rstrip())), flush=True)
        os._exit(0)
    if os.waitpid(child, 0)[1]:
        print("null", flush=True)
"""


def saved(picture, kind, **how):
    out = io.BytesIO()
    picture.save(out, kind, **how)
    return io.BytesIO(out.getvalue())


def opened(made):
    return Image.open(io.BytesIO(made.data))


@pytest.fixture(scope="session")
def measured():
    """Takes one picture in a process of its own; what was said of it, and its memory."""
    environment = {**os.environ, "DJANGO_SETTINGS_MODULE": "tests.settings"}
    with subprocess.Popen(
        [sys.executable, "-c", MEASURED], cwd=ROOT, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        text=True, bufsize=1,
    ) as process:  # fmt: skip

        def measure(path):
            process.stdin.write(f"{path}\n")
            return json.loads(process.stdout.readline())

        yield measure


@pytest.mark.parametrize("phone", [*thirty()], ids=lambda phone: f"{phone.number}-{phone.suffix}-{phone.orientation}")
def test_a_phone_picture_is_kept_upright_in_three_sizes_without_its_notes(phone, tmp_path):
    path = tmp_path / f"IMG.{phone.suffix}"
    write(phone, path)
    assert SECRET.encode() in path.read_bytes()
    with path.open("rb") as file:
        made = images.three_sizes(file)
    shape = phone.size[0] / phone.size[1]
    for one, longest in zip(made, (1600, 800, 300), strict=True):
        picture = opened(one)
        assert picture.size == (one.width, one.height)
        assert max(picture.size) == min(longest, max(phone.size))
        assert abs(picture.width / picture.height - shape) < 0.01
        assert is_upright(picture)
        assert (picture.format, picture.mode) == ("JPEG", "RGB")
        assert not picture.getexif()
        assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert SECRET.encode() not in one.data
        assert b"Exif" not in one.data


@pytest.mark.parametrize(
    ("mode", "kind", "how"),
    [
        ("L", "JPEG", {}), ("CMYK", "JPEG", {}), ("L", "PNG", {}), ("1", "PNG", {}), ("P", "PNG", {}),
        ("LA", "PNG", {}), ("RGBA", "PNG", {}), ("I;16", "PNG", {}), ("RGBA", "WEBP", {"lossless": True}),
        ("RGB", "WEBP", {}),
    ],
)  # fmt: skip
@pytest.mark.parametrize("size", [(900, 600), (3600, 2400)], ids=["small", "large"])
def test_every_kind_of_colour_is_taken(mode, kind, how, size):
    grey = seen(size).convert("L")
    field = (0, 0, 200, 200)  # of one colour, all the same where it is made of dots
    if mode == "I;16":
        picture = grey.convert("I").point(lambda value: value * 257).convert("I;16")
    else:
        picture = seen(size).convert(mode)
    large = opened(images.three_sizes(saved(picture, kind, **how))[0])
    got = ImageStat.Stat(large.convert("L").crop(field)).mean[0]
    assert abs(got - grey.getpixel((10, 10))) < 20


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("size", [(90, 60), (3600, 2400)], ids=["small", "large"])
def test_colours_of_a_wide_camera_are_those_that_screens_show(kind, size):
    """What is red, and nothing else, on every screen is said by these numbers where more colours can be said."""
    full_red = Image.new("RGB", size, (234, 51, 35))
    how = {"quality": 95, "icc_profile": wide_profile()}
    kept = opened(images.three_sizes(saved(full_red, kind, **how))[0])
    red, green, blue = kept.getpixel((9, 9))
    assert red > 247
    assert green < 16
    assert blue < 16
    assert "icc_profile" not in kept.info


def test_a_broken_profile_or_one_of_other_colours_is_ignored():
    red = Image.new("RGB", (90, 60), (234, 51, 35))
    for profile in (b"no profile", wide_profile()[:200], wide_profile().replace(b"RGB ", b"CMYK")):
        kept = opened(images.three_sizes(saved(red, "PNG", icc_profile=profile))[0]).getpixel((9, 9))
        assert all(abs(a - b) < 8 for a, b in zip(kept, (234, 51, 35), strict=True))
    clear = Image.new("RGBA", (90, 60), (234, 51, 35, 0))
    white = opened(images.three_sizes(saved(clear, "PNG", icc_profile=wide_profile()))[0]).getpixel((9, 9))
    assert min(white) > 250


def test_what_is_see_through_lies_on_white_paper():
    clear = seen((90, 60)).convert("RGBA")
    clear.putalpha(0)
    for kind in ("PNG", "WEBP"):
        assert opened(images.three_sizes(saved(clear, kind))[0]).getpixel((5, 5)) == (255, 255, 255)
    palette = Image.new("P", (90, 60))
    palette.putpalette([200, 0, 0])
    assert opened(images.three_sizes(saved(palette, "PNG", transparency=0))[0]).getpixel((5, 5)) == (255, 255, 255)


def test_two_pictures_in_one_file_as_phones_write_them_are_the_first():
    first, depth = seen((900, 600)), Image.new("RGB", (300, 200))
    both = saved(first, "MPO", save_all=True, append_images=[depth])
    assert Image.open(both).format == "MPO"
    both.seek(0)
    assert is_upright(opened(images.three_sizes(both)[0]))


def test_notes_that_cannot_be_read_do_not_keep_a_picture_out():
    bad = notes(6).tobytes()[:20] + b"\xff" * 40
    assert is_upright(opened(images.three_sizes(saved(seen((90, 60)), "JPEG", exif=bad))[0]))


def test_a_small_picture_is_not_enlarged_and_a_sliver_keeps_a_pixel():
    assert [(one.width, one.height) for one in images.three_sizes(saved(seen((40, 30)), "PNG"))] == [(40, 30)] * 3
    sliver = images.three_sizes(saved(Image.new("RGB", (5000, 1)), "PNG"))
    assert [(one.width, one.height) for one in sliver] == [(1600, 1), (800, 1), (300, 1)]


@pytest.mark.parametrize("what", HOSTILE)
def test_what_is_no_good_picture_is_refused_with_a_sentence(what, tmp_path):
    with HOSTILE[what].write(tmp_path / "IMG.jpg").open("rb") as file, pytest.raises(Refused) as refused:
        images.three_sizes(file)
    assert refused.value.message.startswith(HOSTILE[what].said)
    assert refused.value.message.endswith(".")


def test_half_a_picture_is_refused_after_something_was_drawn_on_paper(tmp_path, monkeypatch):
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)  # as WeasyPrint leaves it once it is imported
    with HOSTILE["half a JPEG"].write(tmp_path / "IMG.jpg").open("rb") as file, pytest.raises(Refused):
        images.three_sizes(file)


def test_heic_without_its_package_says_what_to_do(monkeypatch):
    monkeypatch.setattr(images, "reads_heic", lambda: False)
    with pytest.raises(Refused, match="This is a HEIC picture, which this server cannot read"):
        images.three_sizes(io.BytesIO(b"\0\0\0\x18ftypheic" + bytes(400)))


# The largest that are still taken, and what would take far more if it were decoded.
def _heavy():
    noise = Image.effect_noise((400, 300), 50).convert("RGB")
    twelve = noise.resize((4000, 3000))
    yield "jpeg", saved(twelve, "JPEG").getvalue()
    yield "progressive", saved(twelve, "JPEG", progressive=True, subsampling=0).getvalue()
    yield "png", saved(noise.resize((6000, 5500)).convert("RGBA"), "PNG", compress_level=1).getvalue()
    yield "webp", saved(twelve, "WEBP", method=0).getvalue()
    yield "wide", png(300_000, 140, bytes(140 * 1_200_001), kind=6)
    yield "tall", png(140, 280_000, bytes(280_000 * 561), kind=6)
    yield "line", png(7_000_000, 2, bytes(2 * 28_000_001), kind=6)


HEAVY = ["jpeg", "progressive", "png", "webp", "wide", "tall", "line"]


@pytest.fixture(scope="session")
def heavy(tmp_path_factory):
    folder = tmp_path_factory.mktemp("heavy")
    for name, data in _heavy():
        (folder / name).write_bytes(data)
    return folder


@pytest.mark.parametrize("what", HEAVY)
def test_a_large_picture_takes_little_memory(what, heavy, measured):
    said, more = measured(heavy / what)
    assert said == ""
    assert 5 < more <= (60 if what == "jpeg" else 200)


@pytest.mark.parametrize("what", [name for name in HOSTILE if "million" in name or "MB" in name])
def test_a_bomb_is_refused_in_little_memory(what, tmp_path, measured):
    said, more = measured(HOSTILE[what].write(tmp_path / "bomb"))
    assert said.startswith(HOSTILE[what].said)
    assert more <= 200


def test_a_jpeg_of_one_scan_a_colour_counts_as_held_whole(monkeypatch, tmp_path):
    """Its header does not say progressive, and yet a decoder holds all of it."""
    whole = saved(seen((900, 600)), "JPEG", subsampling=0).getvalue()
    scan = whole.index(b"\xff\xda")
    one_colour = whole[:scan] + b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00" + whole[scan + 14 :]
    with pytest.raises(Refused, match="too many pixels"):
        images.three_sizes(io.BytesIO(resized_header(one_colour, 16_000, 12_500)))
