"""The addresses of what is wanted."""

from django.urls import path

from tooling.views import wanted

urlpatterns = [
    path("wanted/", wanted.wanted, name="wanted"),
    path("wanted/<int:number>/", wanted.change_wanted, name="change_wanted"),
    path("wanted/<int:number>/off/", wanted.take_off_wanted, name="take_off_wanted"),
    path("wanted/<int:number>/rub-out/", wanted.rub_out_wanted, name="rub_out_wanted"),
]
