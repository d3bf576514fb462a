"""The addresses of serial numbers; one may have a slash in it, as the number of a part."""

from django.urls import path

from tooling.views import serials, serials_table

urlpatterns = [
    path("serials/", serials.serials, name="serials"),
    path("serials.csv", serials_table.table, name="serials_table"),
    path("serials/<part_number:serial>/", serials.serial, name="serial"),
]
