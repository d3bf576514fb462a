"""The addresses of checklists, and of the looks that answered them."""

from django.urls import path

from tooling.views import checklists, looks

urlpatterns = [
    path("checklists/", checklists.checklists, name="checklists"),
    path("checklists/<str:kind>/<str:purpose>/<int:version>/", checklists.checklist_version, name="checklist_version"),
    path("tools/<str:code>/looks/<int:number>/", looks.look, name="look"),
    path("tools/<str:code>/look-over.pdf", looks.look_sheet, name="look_sheet"),
]
