"""The addresses of places, parts, and of what a lead changes of a tool."""

import re
from urllib.parse import quote, unquote

from django.urls import path, register_converter

from tooling.views import (
    catalogue,
    me,
    new_places,
    new_tool,
    parts,
    passes,
    place_counts,
    plug_sheet,
    plugs,
    rack_sheet,
    racks,
    set_edit,
    set_into,
    set_sheet,
    took,
)

# What no part's address may look like: our own pages, and steps in a path, which browsers walk.
_OTHERWISE = re.compile(r"new|~.*|(.*/)?\.{0,2}(/.*)?|.*/revise|.*/set|.*/revisions/\d+", re.DOTALL)


class PartNumber:
    """The number of a part in an address: as it is, slashes and all, or spelled out behind ~ where it would mislead."""

    regex = ".+"

    def to_python(self, value: str) -> str:
        """The number that an address is of."""
        return unquote(value[1:].replace("~", "%")) if value.startswith("~") else value

    def to_url(self, number: str) -> str:
        """X/revise: ~X~2Frevise"""
        if not _OTHERWISE.fullmatch(number):
            return number
        spelled = quote(number, safe="").replace("~", "%7E").replace(".", "%2E")
        return "~" + spelled.replace("%", "~")


register_converter(PartNumber, "part_number")

urlpatterns = [
    path("tools/new/", new_tool.new_tool, name="new_tool"),
    path("tools/new/all/", catalogue.new_tool, name="new_tool_all"),
    path("tools/new/<str:kind>/", new_tool.build, name="build_tool"),
    path("tools/<str:code>/change/", catalogue.change, name="change_tool"),
    path("tools/<str:code>/plug/", plugs.plug_record, name="plug_record"),
    path("tools/<str:code>/plug.pdf", plug_sheet.plug_sheet, name="plug_sheet"),
    path("tools/<str:code>/plug/passes/add/", passes.add_pass, name="add_pass"),
    path("tools/<str:code>/plug/passes/<int:number>/", passes.change_pass, name="change_pass"),
    path("tools/<str:code>/into-set/", set_into.put_into_set, name="put_into_set"),
    path("tools/<str:code>/took/", took.took, name="took"),
    path("tools/<str:code>/took.csv", took.table, name="took_table"),
    # Not "code": pages of what went wrong take that for a tool's.
    path("racks/", racks.racks, name="racks"),
    path("racks/new/", new_places.new_places, name="new_places"),
    path("racks/<str:place_code>/", racks.place, name="place"),
    path("racks/<str:place_code>/sheet.pdf", rack_sheet.rack_sheet, name="rack_sheet"),
    path("racks/<str:place_code>/change/", racks.change, name="change_place"),
    path("racks/<str:place_code>/seen/", racks.seen, name="seen_at"),
    path("racks/<str:place_code>/count/", place_counts.begin_count, name="begin_count"),
    path("counts/", place_counts.counts, name="counts"),
    path("counts/<int:number>/", place_counts.count, name="count"),
    path("counts/<int:number>/mend/", place_counts.mend_count, name="mend_count"),
    path("p/<path:place_code>/", racks.open_place, name="open_place"),
    # A tag's own code is printed in capitals, which a QR code holds in fewer squares.
    path("P/<path:place_code>/", racks.open_place, name="open_place_printed"),
    path("parts/", parts.parts, name="parts"),
    path("parts/new/", parts.new_part, name="new_part"),
    # A part's number may have a slash in it.
    path("parts/<part_number:part>/revise/", parts.revise, name="revise_part"),
    path("parts/<part_number:part>/set/", set_edit.edit_set, name="edit_set"),
    path("parts/<part_number:part>/revisions/<int:revision>/", parts.change_revision, name="change_revision"),
    path("parts/<part_number:part>/set.pdf", set_sheet.tool_set_sheet, name="tool_set_sheet"),
    path("parts/<part_number:part>/", parts.part, name="part"),
    path("me/", me.settings, name="settings"),
]
