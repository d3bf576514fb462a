"""The addresses of plugs, molds, inserts and what belongs to every tool."""

from django.urls import path

from tooling.views.first_lead import become_first_lead

urlpatterns = [
    path("first/<str:token>/", become_first_lead, name="first_lead"),
]
