"""Where pictures are stored: in a folder of this machine, or in a bucket that several machines share."""

import importlib.util
from typing import Any
from urllib.parse import urlsplit

PACKAGE = "django-storages[s3]"


def bucket(given: str) -> tuple[str, str]:
    """The bucket and the folder in it that an address like s3://bucket/folder names; ("", "") where it names none."""
    parts = urlsplit(given)
    return (parts.netloc, parts.path.strip("/")) if parts.scheme == "s3" else ("", "")


def can_reach_buckets() -> bool:
    """Whether the optional package that speaks to buckets is installed."""
    return all(importlib.util.find_spec(name) is not None for name in ("storages", "boto3"))


def storage(given: str) -> dict[str, Any]:
    """Django's storage for MEDIA_STORAGE. What cannot be used is said by a system check, not here."""
    name, folder = bucket(given)
    if not name:
        return {"BACKEND": "shared.whole_files.WholeFiles"}
    # A name says what is in it, so writing over is writing the same. Keys and endpoint stand in AWS's own variables.
    options = {"bucket_name": name, "location": folder, "file_overwrite": True, "default_acl": None}
    return {"BACKEND": "storages.backends.s3.S3Storage", "OPTIONS": options}
