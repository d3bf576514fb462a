from django.apps import AppConfig


class ToolingConfig(AppConfig):
    name = "tooling"
