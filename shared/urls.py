"""The addresses of the program; each app adds its own file."""

from django.urls import URLPattern, URLResolver, include, path

from shared import views

handler400 = "shared.views.not_right"

urlpatterns: list[URLPattern | URLResolver] = [
    path("healthz", views.healthz, name="healthz"),
    path("sign-out/", views.SignOut.as_view(), name="sign_out"),
    path("", include("trimfixtures.urls")),
    path("", include("tooling.urls")),
]
