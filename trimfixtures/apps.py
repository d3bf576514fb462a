from django.apps import AppConfig


class TrimFixturesConfig(AppConfig):
    name = "trimfixtures"

    def ready(self) -> None:
        from tooling.words import about
        from trimfixtures.words import changes

        about.register(changes.PREFIX, changes.changed)
