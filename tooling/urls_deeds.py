"""The addresses of the deeds, each below its tool, and that of a tag."""

from django.urls import path

from tooling.views import deeds

urlpatterns = [
    path("t/<path:code>/", deeds.open_tag, name="open_tag"),
    # A tag's own code is printed in capitals, which a QR code holds in fewer squares.
    path("T/<path:code>/", deeds.open_tag, name="open_tag_printed"),
    path("tools/<str:code>/lay-up/", deeds.lay_up, name="lay_up"),
    path("tools/<str:code>/lay-up-done/", deeds.lay_up_done, name="lay_up_done"),
    path("tools/<str:code>/abandoned/", deeds.abandoned, name="abandoned"),
    path("tools/<str:code>/pulled/", deeds.pulled, name="pulled"),
    path("tools/<str:code>/coat/", deeds.coat, name="coat"),
    path("tools/<str:code>/coat/now/", deeds.coat_now, name="coat_now"),
    path("tools/<str:code>/coat/wiped/", deeds.wiped, name="wiped"),
    path("coats/", deeds.coats, name="coats"),
    path("coats/together/", deeds.coats_together, name="coats_together"),
    path("coats/together/now/", deeds.together_now, name="together_now"),
    path("coats/together/wiped/", deeds.together_wiped, name="together_wiped"),
    path("coats/together/rub-out/", deeds.together_rub_out, name="together_rub_out"),
    # Not "code": pages of what went wrong take that for a tool's.
    path("recipes/<str:recipe_code>/tin/", deeds.tin, name="tin"),
    path("tools/<str:code>/film/", deeds.film, name="film"),
    path("tools/<str:code>/strip/", deeds.strip, name="strip"),
    path("tools/<str:code>/repair/", deeds.repair, name="repair"),
    path("tools/<str:code>/polish/", deeds.polish, name="polish"),
    path("tools/<str:code>/resurfaced/", deeds.resurfaced, name="resurfaced"),
    path("tools/<str:code>/clean/", deeds.clean, name="clean"),
    path("tools/<str:code>/build-up/", deeds.build_up, name="build_up"),
    path("tools/<str:code>/release-check/", deeds.release_check, name="release_check"),
    path("tools/<str:code>/coat-wanted/", deeds.wax_wanted, name="wax_wanted"),
    path("tools/<str:code>/installed/", deeds.installed, name="installed"),
    path("tools/<str:code>/removed/", deeds.removed, name="removed"),
    path("tools/<str:code>/interval/", deeds.interval, name="interval"),
    path("tools/<str:code>/release-system/", deeds.release_system, name="release_system"),
    path("tools/<str:code>/note/", deeds.note, name="note"),
    path("tools/<str:code>/reading/", deeds.reading, name="reading"),
    path("tools/<str:code>/tag-lost/", deeds.tag_lost, name="tag_lost"),
    path("tools/<str:code>/tag-found/", deeds.tag_found, name="tag_found"),
    path("tools/<str:code>/hold/", deeds.hold, name="hold"),
    path("tools/<str:code>/tell/", deeds.tell_lead, name="tell_lead"),
    path("tools/<str:code>/entries/<int:number>/lead-saw/", deeds.lead_saw, name="lead_saw"),
    path("tools/<str:code>/looked-at/", deeds.looked_at, name="looked_at"),
    path("tools/<str:code>/move/", deeds.move, name="move"),
    path("tools/<str:code>/home/", deeds.put_home, name="put_home"),
    path("tools/<str:code>/entries/<int:number>/seen/", deeds.seen, name="seen"),
    path("tools/<str:code>/entries/<int:number>/how-off/", deeds.how_off, name="how_off"),
    path("tools/<str:code>/entries/<int:number>/inserts-back/", deeds.inserts_back, name="inserts_back"),
    path("tools/<str:code>/entries/<int:number>/rub-out/", deeds.rub_out, name="rub_out"),
    path("tools/<str:code>/entries/<int:number>/void/", deeds.void, name="void"),
    path("tools/<str:code>/entries/<int:number>/correct/", deeds.correct, name="correct"),
]
