"""Codes: what is written on a tag, scanned, and typed with gloves on."""

import re
import unicodedata

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

LONGEST = 16
# A letter or digit is needed: a browser takes "." and ".." in an address for something else.
_CODE = re.compile(r"(?=.*[A-Z0-9])[A-Z0-9.-]{1,16}")


def tidy_code(text: str) -> str:
    """A code as it is stored: upper case, without outer spaces."""
    return text.strip().upper()


def tidy_older_code(text: str) -> str:
    """An older code, or what else a tool is found by, as it is stored: single spaces, and one for a comma.

    In the sheets older codes stand between commas.
    """
    return " ".join(tidy_code(text).replace(",", " ").split())


def check_code(code: str) -> None:
    """Refuse what cannot be a code, and propose one that can."""
    if _CODE.fullmatch(tidy_code(code)) and code.isascii():
        return
    message = _("A code is 1 to 16 of the letters A to Z, digits, hyphen and full stop, not “%(code)s”.")
    proposed = propose_code(code)
    if proposed:
        message += " " + _("Try %(proposed)s.")
    raise ValidationError(message, code="impossible_code", params={"code": code, "proposed": proposed})


def propose_code(text: str) -> str:
    """The nearest possible code to what was typed; "" when nothing of it can stay."""
    bare = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().upper()
    return re.sub(r"[^A-Z0-9.]+", "-", bare).strip("-.")[:LONGEST].rstrip("-.")
