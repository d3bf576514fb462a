from django.apps import AppConfig


class ToolingConfig(AppConfig):
    name = "tooling"

    def ready(self) -> None:
        from tooling import checks  # noqa: F401  (registers the system checks)
