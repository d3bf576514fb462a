"""Pages that belong to no part of the shop."""

from shared.views.door import SignIn, SignOut
from shared.views.health import healthz
from shared.views.wrong import not_right

__all__ = ["SignIn", "SignOut", "healthz", "not_right"]
