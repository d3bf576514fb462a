"""The addresses of holds: of one, of a tool's, and of all that is held now."""

from django.urls import path

from tooling.views import holds

urlpatterns = [
    path("held/", holds.held, name="held"),
    path("tools/<str:code>/holds/", holds.holds, name="holds"),
    path("tools/<str:code>/holds/<int:number>/", holds.hold_story, name="hold_story"),
]
