from typing import Any

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class ToolingConfig(AppConfig):
    name = "tooling"

    def ready(self) -> None:
        from tooling import checks  # noqa: F401  (registers the system checks)
        from tooling.selectors.usable import families
        from tooling.services import keeping, shop
        from tooling.services.moving_in import kinds

        families.make_known()
        kinds.make_known()
        keeping.make_known()
        shop.make_known()

        post_migrate.connect(_fill_search, sender=self, dispatch_uid="tooling.fill_search")


def _fill_search(sender: AppConfig, using: str, **kwargs: Any) -> None:
    """Tools from before there was a search get their words."""
    from tooling.services import search

    search.fill(using)
