from django.apps import AppConfig


class TrimFixturesConfig(AppConfig):
    name = "trimfixtures"
