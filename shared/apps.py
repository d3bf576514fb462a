from django.apps import AppConfig


class SharedConfig(AppConfig):
    name = "shared"

    def ready(self) -> None:
        from shared import checks  # noqa: F401  (registers the system checks)
