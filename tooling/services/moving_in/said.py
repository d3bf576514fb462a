"""What was said of an upload, as one word: what was tried is brought in, and nothing else."""

import hashlib
import json

from tooling.models import ColumnMatch, MovingIn, WordMatch
from tooling.services.moving_in.files import sheets_folder


def said_of(moving: MovingIn) -> str:
    """A digest of its files, and of all that decides how they are read."""
    files = sorted(
        (path.name, path.stat().st_size, path.stat().st_mtime_ns) for path in sheets_folder(moving).glob("*")
    )
    columns = ColumnMatch.objects.order_by("pk").values_list("their_sheet", "their_column", "sheet", "column", "kind")
    words = WordMatch.objects.order_by("pk").values_list("sheet", "column", "theirs", "ours")
    whole = json.dumps([files, moving.given, list(columns), list(words)], sort_keys=True)
    return hashlib.sha256(whole.encode()).hexdigest()
