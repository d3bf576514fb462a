"""A colour profile as newer phones write it: more colours than a plain screen shows."""

import struct

# How red, green and blue of Display P3 are seen in the light that profiles are written for (D50), and that light.
_RED, _GREEN, _BLUE = (0.51512, 0.24120, -0.00105), (0.29198, 0.69225, 0.04189), (0.15710, 0.06657, 0.78407)
_WHITE = (0.96420, 1.0, 0.82491)
_GAMMA = 2.2


def _fixed(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))


def _light(values: tuple[float, ...]) -> bytes:
    return b"XYZ " + bytes(4) + b"".join(_fixed(one) for one in values)


def wide_profile() -> bytes:
    """Version 2 of the format (ICC.1:2001-04): three colours, a white and one curve."""
    curve = b"curv" + bytes(4) + struct.pack(">IHxx", 1, round(_GAMMA * 256))
    name = b"desc" + bytes(4) + struct.pack(">I", 5) + b"wide\0" + bytes(78)
    words = b"text" + bytes(4) + b"none\0"
    body = {
        b"desc": name, b"cprt": words, b"wtpt": _light(_WHITE), b"rXYZ": _light(_RED), b"gXYZ": _light(_GREEN),
        b"bXYZ": _light(_BLUE), b"rTRC": curve, b"gTRC": curve, b"bTRC": curve,
    }  # fmt: skip
    at, table, data = 128 + 4 + 12 * len(body), b"", b""
    for sign, value in body.items():
        padded = value + bytes(-len(value) % 4)
        table += sign + struct.pack(">II", at + len(data), len(value))
        data += padded
    total = at + len(data)
    head = struct.pack(">I4sI", total, bytes(4), 0x02100000) + b"mntrRGB XYZ " + bytes(12) + b"acsp"
    head = head.ljust(68, b"\0") + b"".join(_fixed(one) for one in _WHITE)
    return head.ljust(128, b"\0") + struct.pack(">I", len(body)) + table + data
