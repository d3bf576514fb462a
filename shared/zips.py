"""ZIPs that somebody sent: what of them can be unpacked without surprise."""

import zipfile

_BOUNDED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


def is_open_ended(info: zipfile.ZipInfo) -> bool:
    """Whether it is packed in a way whose unpacking cannot be stopped at the size that it says."""
    return info.compress_type not in _BOUNDED
