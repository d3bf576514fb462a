"""A picture from a phone made into the three sizes that are kept, beside libvips doing the same."""

import io
import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from PIL import Image

from bench.measure import Row, in_turn
from bench.shops import ROOT
from shared.images import SIZES, three_sizes

WIDTH, HEIGHT = 4000, 3000
QUALITY = 84
MOST_MORE_MB = 60
_TURNS = (Image.Transpose.ROTATE_180, Image.Transpose.FLIP_LEFT_RIGHT, Image.Transpose.FLIP_TOP_BOTTOM)

# The highest that a process ever needed beyond what it had with library and file read, in kB. Asked of the kernel by
# process: rusage begins with what the parent had.
_HIGHEST = Path("/proc/self/status")
_PEAK = """
import sys
import pyvips
from bench.rows.pictures import highest, {maker}
file = sys.stdin.buffer.read()
before = highest()
{maker}(file)
print(highest() - before)
"""


def measure() -> Iterator[Row]:
    """Its computing time; then its memory on Linux, with megabytes in the columns of milliseconds."""
    # Before it is first imported: on more than one thread it takes more time of the processors, not less.
    os.environ["VIPS_CONCURRENCY"] = "1"
    picture = taken()
    yield in_turn(Row("12-megapixel picture to three sizes", 2), lambda: ours(picture), lambda: theirs(picture))
    if not _HIGHEST.exists():
        return
    figure, floor = ([peak(maker, picture) for _ in range(5)] for maker in (ours, theirs))
    more = sorted(figure)[2] - sorted(floor)[2]
    what = f"its memory, in MB; at most {MOST_MORE_MB} more"
    yield Row(what, None, [mb / 1000 for mb in figure], [mb / 1000 for mb in floor], held=more <= MOST_MORE_MB)


@cache
def taken() -> bytes:
    """Light and shade with the grain of a camera, lying on its side, as large as most phones take it."""
    shade = Image.effect_noise((WIDTH // 50, HEIGHT // 50), 90).resize((WIDTH, HEIGHT), Image.Resampling.BICUBIC)
    grain = Image.effect_noise((WIDTH, HEIGHT), 12)
    bands = [Image.blend(shade.transpose(turn), grain, 0.4) for turn in _TURNS]
    exif = Image.Exif()
    exif[0x0112] = 6
    out = io.BytesIO()
    Image.merge("RGB", bands).save(out, "JPEG", quality=92, exif=exif)
    return out.getvalue()


def ours(picture: bytes) -> None:
    three_sizes(io.BytesIO(picture))


def theirs(picture: bytes) -> None:
    """Turned upright and shrunk while it is decoded, each size from the one before."""
    import pyvips

    image = pyvips.Image.thumbnail_buffer(picture, SIZES[0], height=SIZES[0], size="down").copy_memory()
    for longest in SIZES:
        if longest != SIZES[0]:
            image = image.thumbnail_image(longest, height=longest, size="down").copy_memory()
        image.jpegsave_buffer(Q=QUALITY, keep="none")


def highest() -> int:
    """The most memory that this process has had at any time, in kB."""
    return int(re.search(r"VmHWM:\s+(\d+)", _HIGHEST.read_text()).group(1))


def peak(maker: Callable[[bytes], None], picture: bytes) -> float:
    """In a process of its own, in MB."""
    command = [sys.executable, "-c", _PEAK.format(maker=maker.__name__)]
    done = subprocess.run(command, cwd=ROOT, input=picture, check=True, stdout=subprocess.PIPE)
    return int(done.stdout) / 1024
