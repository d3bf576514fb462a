"""The colours of a camera, made into those that every screen shows: sRGB, without a profile beside them."""

import io
from collections.abc import Callable

from PIL import Image, ImageCms

# Those of phones take less than 1 KB, those of printing presses a few MB.
_LONGEST = 4 << 20
_MODES = {"RGB": "RGB", "GRAY": "L", "CMYK": "CMYK"}
_AS_IT_IS = "sRGB"

Change = Callable[[Image.Image], Image.Image]


def to_screen(image: Image.Image) -> tuple[str, Change] | None:
    """In which mode its colours are to be given, and what makes them sRGB. None where there is nothing to change.

    A profile that cannot be read is ignored: the picture is taken with the colours that its numbers say.
    """
    profile = image.info.get("icc_profile") or b""
    if not isinstance(profile, bytes) or not 0 < len(profile) <= _LONGEST:
        return None
    try:
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        if ImageCms.getProfileDescription(own).startswith(_AS_IT_IS):
            return None
        mode = _MODES[own.profile.xcolor_space.strip()]
        change = ImageCms.buildTransform(own, ImageCms.createProfile("sRGB"), mode, "RGB")
    except Exception:
        return None
    return mode, lambda band: ImageCms.applyTransform(band, change) or band
