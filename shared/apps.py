from django.apps import AppConfig


class SharedConfig(AppConfig):
    name = "shared"

    def ready(self) -> None:
        from django.db.backends.signals import connection_created

        from shared import checks, holding, sentences  # noqa: F401  (the first registers the system checks)

        sentences.say()
        connection_created.connect(holding.share_session)
