from django.apps import AppConfig


class SharedConfig(AppConfig):
    name = "shared"

    def ready(self) -> None:
        from shared import checks, sentences  # noqa: F401  (the first registers the system checks)

        sentences.say()
