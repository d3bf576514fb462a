"""The addresses of what is in the making."""

from django.urls import path

from tooling.views import in_making

urlpatterns = [
    path("making/", in_making.all_in_making, name="in_making"),
    path("making/steps/", in_making.making_steps, name="making_steps"),
]
