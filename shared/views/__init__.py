"""Pages that belong to no part of the shop."""

from shared.views.health import healthz

__all__ = ["healthz"]
