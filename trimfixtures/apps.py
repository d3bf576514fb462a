from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class TrimFixturesConfig(AppConfig):
    name = "trimfixtures"

    def ready(self) -> None:
        from tooling.selectors import menu
        from tooling.words import about
        from trimfixtures.words import changes

        about.register(changes.PREFIX, changes.changed)
        menu.register("cutters", _("Cutters"))
