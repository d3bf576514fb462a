"""The addresses of the program; each app adds its own file."""

from django.urls import URLPattern, URLResolver, path

from shared.views import healthz

urlpatterns: list[URLPattern | URLResolver] = [
    path("healthz", healthz, name="healthz"),
]
