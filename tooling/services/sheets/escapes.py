"""Texts that must arrive as they were: what a spreadsheet would run, and characters that a file cannot hold."""

import re

# A table of text: what begins like a formula gets an apostrophe before it, and one that has one already gets one more.
_RUNS = re.compile(r"'*[=+\-@\t\r\n]")
_GUARDED = re.compile(r"'+[=+\-@\t\r\n]")

# A workbook: _x000B_ stands for a character that XML cannot hold, and _x005F_ for the _ of a text that looks like that.
_NOT_IN_XML = re.compile(r"[\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


def guard(text: str) -> str:
    """A text for a cell of a .csv that no spreadsheet runs."""
    return f"'{text}" if _RUNS.match(text) else text


def unguard(text: str) -> str:
    """The text that `guard` was given."""
    return text[1:] if _GUARDED.match(text) else text


def to_xml(text: str) -> str:
    """A text for a cell of a workbook, in the spelling that workbooks have for what XML cannot hold."""
    return _NOT_IN_XML.sub(lambda found: f"_x{ord(found.group()):04X}_", text)


def from_xml(text: str) -> str:
    """The text that `to_xml` was given."""
    return _ESCAPED.sub(lambda found: chr(int(found.group(1), 16)), text) if "_x" in text else text


def storable(text: str) -> str:
    """A text of a file without what no database keeps: zeros and halves of characters."""
    return text.replace("\0", "").encode("utf-8", "replace").decode("utf-8")
