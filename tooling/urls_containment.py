"""The addresses of parts in doubt: by an entry that stopped a tool, and by a lot, which may have a slash in it."""

from django.urls import path

from tooling.views import containment, containment_paper, lots

urlpatterns = [
    path("tools/<str:code>/entries/<int:number>/made/", containment.made_since, name="made_since"),
    path("tools/<str:code>/entries/<int:number>/made.csv", containment_paper.made_since_table, name="made_since_table"),
    path("tools/<str:code>/entries/<int:number>/made.pdf", containment_paper.made_since_sheet, name="made_since_sheet"),
    path("lots/", lots.lots, name="lots"),
    path("lots/<part_number:lot>/made.csv", containment_paper.lot_made_table, name="lot_made_table"),
    path("lots/<part_number:lot>/made.pdf", containment_paper.lot_made_sheet, name="lot_made_sheet"),
    path("lots/<part_number:lot>/", containment.lot_made, name="lot_made"),
]
