"""What stands in words on the section of a wall, worked out by whoever asks for the picture."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Said:
    """Words of the picture, in the reader's units; `stickout` and `wall` in two lines, `between` of holder and wall."""

    title: str
    told: str
    holder: str
    ball: str
    between: str
    angle: str
    stickout: tuple[str, str]
    wall: tuple[str, str]
