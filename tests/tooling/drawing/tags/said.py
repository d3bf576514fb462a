"""Tags to lay out: ordinary ones and the longest that the shop may write, in both systems of units."""

from decimal import Decimal
from itertools import product

from shared.paper import qr
from tooling.drawing.tags.facts import HeldTag, Piece, PlaceTag, Reason, ToolTag
from tooling.words import on_tags as words

KINDS = ("plug", "mold", "insert", "trim_mask")
SYSTEMS = ("metric", "us")
STOCKS = {"card": (85.6, 53.98), "label": (100, 60), "a7": (74, 105)}
SIZES = {**STOCKS, "50x30": (50, 30), "30x50": (30, 50), "120x40": (120, 40), "60x60": (60, 60), "a5": (148, 210)}
SENTENCE = (
    "Cockpit coaming with thigh braces & two <recesses> for the seat, laid up in one piece with the deck flange, "
    "for the long cruising kayak with the higher fore deck and the skeg box, after 2025"
)
LONG = {"code": "W" * 16, "name": SENTENCE.ljust(200, "."), "words": SENTENCE}
ENDLESS = {"code": "RUDDER-STARBD.22", "name": "W" * 200, "words": "W" * 120}
ORDINARY = {"code": "12.STBD", "name": "Rowing shell 12, starboard half", "words": "rack B, shelf 2"}
LENGTHS = {"ordinary": ORDINARY, "long": LONG, "endless": ENDLESS}
NUMBER = Decimal("137.4")


def tool(kind: str = "mold", length: str = "ordinary", system: str = "metric", family: str = "paste_wax") -> ToolTag:
    """A tag on which everything stands that may."""
    said = LENGTHS[length]
    code, text = said["code"], said["words"]
    lines = (
        (words.kind(kind, "R"), *words.home(text, code)),
        (Piece("more", "", "rough cut"),),
        (words.matched_set(text[:80]),),
        tuple(words.owner(text, text)),
        (words.hottest(Decimal("82.5"), system),),
        (words.weight(NUMBER, system, None), words.lift(text)),
    )
    pulls = "" if kind == "trim_mask" else words.pulls(family)
    return ToolTag(code, kind, said["name"], lines, words.caution(kind, family), pulls)


def place(length: str = "ordinary", system: str = "metric") -> PlaceTag:
    said = LENGTHS[length]
    lines = ((words.within(said["name"]),), (words.height(Decimal(900), system, None),))
    return PlaceTag(said["code"], said["name"], lines, words.load(NUMBER, system))


def held(length: str = "ordinary", reasons: int = 1) -> HeldTag:
    said = LENGTHS[length]
    one = Reason(f"“{said['name']}”", "Wed 23 September 2026, 16:50", said["words"][:100])
    return words.held(said["code"], said["name"], [one] * reasons, formal=True)


def matrix(code: str = "12.STBD", kind: str = qr.TOOL) -> qr.Matrix:
    return qr.made(qr.address("http://192.168.1.20:8000", kind, code))


def tool_tags() -> list[ToolTag]:
    return [tool(*one) for one in product(KINDS, LENGTHS, SYSTEMS)]


def place_tags() -> list[PlaceTag]:
    return [place(*one) for one in product(LENGTHS, SYSTEMS)]


def held_tags() -> list[HeldTag]:
    return [held(*one) for one in product(LENGTHS, (1, 3))]
