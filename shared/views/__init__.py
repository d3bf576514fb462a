"""Pages that belong to no part of the shop."""

from shared.views.door import SignIn, SignOut
from shared.views.health import healthz

__all__ = ["SignIn", "SignOut", "healthz"]
