"""The addresses of checklists, and of the looks that answered them."""

from django.urls import path

from tooling.views import checklists

urlpatterns = [
    path("checklists/", checklists.checklists, name="checklists"),
    path("checklists/<str:kind>/<str:purpose>/<int:version>/", checklists.checklist_version, name="checklist_version"),
]
