"""How long one request may work on what was sent in one piece, so that the server does not cut it off."""

import time

from django.utils.translation import gettext as _

from shared.errors import Refused

# Seconds. The server waits for a request more than three times as long (shared/run/serve.py), for what arrives slowly.
MOST = 90
# Files in one piece. Up to twice as many are received (settings), so that those beyond can be named.
MOST_FILES = 100


class Patience:
    """Begins with the request. What was done until it ends is kept; of the rest it is said that it was not."""

    def __init__(self) -> None:
        """From now on."""
        self._ends = time.monotonic() + MOST

    def check(self) -> None:
        """Raises Refused where it is at its end."""
        if time.monotonic() > self._ends:
            raise Refused(_("Not taken in: too much was sent at once. Send this one again."))
