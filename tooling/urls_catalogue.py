"""The addresses of places, parts, and of what a lead changes of a tool."""

from django.urls import path

from tooling.views import catalogue, me, parts, racks

urlpatterns = [
    path("tools/new/", catalogue.new_tool, name="new_tool"),
    path("tools/<str:code>/change/", catalogue.change, name="change_tool"),
    # Not "code": pages of what went wrong take that for a tool's.
    path("racks/", racks.racks, name="racks"),
    path("racks/new/", racks.new_places, name="new_places"),
    path("racks/<str:place_code>/", racks.place, name="place"),
    path("racks/<str:place_code>/change/", racks.change, name="change_place"),
    path("racks/<str:place_code>/seen/", racks.seen, name="seen_at"),
    path("p/<path:place_code>/", racks.open_place, name="open_place"),
    # A tag's own code is printed in capitals, which a QR code holds in fewer squares.
    path("P/<path:place_code>/", racks.open_place, name="open_place_printed"),
    path("parts/", parts.parts, name="parts"),
    path("parts/new/", parts.new_part, name="new_part"),
    # A part's number may have a slash in it.
    path("parts/<path:part>/revise/", parts.revise, name="revise_part"),
    path("parts/<path:part>/revisions/<int:revision>/", parts.change_revision, name="change_revision"),
    path("parts/<path:part>/", parts.part, name="part"),
    path("me/", me.settings, name="settings"),
]
