"""The addresses of trim masks, and of what cuts along them."""

from django.urls import path

from trimfixtures.views import bench, check_sheet, cuts, cutters, deeds, edge_checks, trim_sheet

urlpatterns = [
    path("tools/<str:code>/checks/", edge_checks.edge_checks, name="edge_checks"),
    path("tools/<str:code>/checks.pdf", check_sheet.check_sheet, name="check_sheet"),
    path("trim/", bench.bench, name="trim_bench"),
    path("cutters/", cutters.cutters, name="cutters"),
    path("cutters/new/", cutters.new_cutter, name="new_cutter"),
    # Not "code": pages of what went wrong take that for a tool's.
    path("cutters/<str:cutter_code>/", cutters.cutter, name="cutter"),
    path("tools/<str:code>/trimmed/", deeds.trimmed, name="trimmed"),
    path("tools/<str:code>/check/", deeds.check_edge, name="check_edge"),
    path("tools/<str:code>/entries/<int:number>/cross/", deeds.tape_cross, name="tape_cross"),
    path("tools/<str:code>/entries/<int:number>/cut-into/", deeds.cut_into, name="cut_into"),
    path("tools/<str:code>/trim.pdf", trim_sheet.trim_sheet, name="trim_sheet"),
    path("tools/<str:code>/cuts/", cuts.cuts, name="cuts"),
    path("tools/<str:code>/cuts/add/", cuts.add_cut, name="add_cut"),
    path("tools/<str:code>/cuts/<int:number>/", cuts.change_cut, name="change_cut"),
]
