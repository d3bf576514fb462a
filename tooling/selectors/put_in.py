"""What should be done to a mold insert, and to its mold, before the one is put into the other."""

from collections.abc import Iterator
from datetime import datetime

from tooling.models import Tool
from tooling.selectors.floor import floor
from tooling.selectors.rows import Row
from tooling.selectors.usable.bench import wants_bench
from tooling.words.usable import strip_mold_first, work_first


def before_put_in(insert: Tool, mold: Tool, at: datetime) -> Iterator[str]:
    """Each as a sentence; nothing where the insert is through and the mold wants no strip."""
    loose, into = (floor(one, at).row for one in (insert, mold))
    first = bench_first(loose, mold.code) if loose is not None else ""
    if first:
        yield first
    elif into is not None and into.own.status == "needs_strip":
        yield strip_mold_first(mold.code, insert.code)


def bench_first(insert: Row, mold: str = "") -> str:
    """That an insert wants work on the bench first; "" where it wants none."""
    return (
        work_first(insert.tool.code, mold, strip=insert.own.status == "needs_strip") if wants_bench(insert.own) else ""
    )
