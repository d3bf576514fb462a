"""What was scanned or typed: a code, an older code, or the address that a tag holds."""

import re
from collections.abc import Iterator
from itertools import islice
from urllib.parse import unquote

from tooling.models import Place, Tool

# On any host, and below any path there: tags outlive the name of the machine.
_ADDRESS = re.compile(r"[a-z][a-z0-9+.-]*://[^/?#]*(?P<path>/[^?#]*)", re.IGNORECASE)
# As a tag has them, and as they stand where the browser says where one is.
_TOOL = re.compile(r"/(?:t|tools)(?=/)", re.IGNORECASE)
_PLACE = re.compile(r"/(?:p|racks)(?=/)", re.IGNORECASE)
# A path may hold the same word before it; more often than this it is nonsense.
_TRIED = 3


def tool(text: str) -> Tool | None:
    """The tool of that code or older code, or whose tag it is.

    An older code may have a slash in it, so nothing is cut off what is no address.
    """
    return next((found for code in _codes(text, _TOOL) if (found := Tool.objects.called(code).first())), None)


def place(text: str) -> Place | None:
    """The place of that code or older code, or whose tag it is."""
    return next((found for code in _codes(text, _PLACE) if (found := Place.objects.called(code).first())), None)


def tag_of_place(text: str) -> Place | None:
    """The place whose tag it is; a code alone is none."""
    return place(text) if is_address(text) else None


def is_address(text: str) -> bool:
    """Whether it is an address, as a tag holds one."""
    return _ADDRESS.fullmatch(_bare(text)) is not None


def code_on(text: str) -> str:
    """The code in it, for words about it: that of the tag, else the text itself."""
    codes = [*_codes(text, _TOOL), *_codes(text, _PLACE)] if is_address(text) else []
    return next((code for code in codes if code and code != text.strip()), text.strip())


def _codes(text: str, named: re.Pattern[str]) -> Iterator[str]:
    """The codes that it may mean, the likeliest first."""
    yield text.strip()
    address = _ADDRESS.fullmatch(_bare(text))
    if address is not None:
        path = address["path"]
        for found in islice(named.finditer(path), _TRIED):
            yield unquote(path[found.end() :].strip("/")).strip()


def _bare(text: str) -> str:
    """Without what an address may say behind its path."""
    return re.split(r"[?#]", text.strip(), maxsplit=1)[0]
