"""The only place that reads the clock."""

import datetime


def now() -> datetime.datetime:
    """This moment, in UTC."""
    return datetime.datetime.now(datetime.UTC)
