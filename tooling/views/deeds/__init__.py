"""The deeds of the floor, a file a family. Each view: the tool, the form, one service call, and back to the tool."""

from tooling.views.deeds.coats import coat, coat_now, wiped
from tooling.views.deeds.defects import defect_again, defect_new, defect_seen
from tooling.views.deeds.ends import abandoned, lay_up_done
from tooling.views.deeds.how_off import how_off
from tooling.views.deeds.in_use import accepted, reinstated
from tooling.views.deeds.inserts import installed, removed
from tooling.views.deeds.lay_up import lay_up
from tooling.views.deeds.loans import hand_back, lend
from tooling.views.deeds.looked import looked_at
from tooling.views.deeds.making import make_step, make_work
from tooling.views.deeds.measuring import reading
from tooling.views.deeds.mending import polish, repair, resurfaced
from tooling.views.deeds.off_the_plug import take_off_mold
from tooling.views.deeds.places import move, put_home
from tooling.views.deeds.pulled import pulled
from tooling.views.deeds.rules import interval, release_system
from tooling.views.deeds.seen import inserts_back, seen
from tooling.views.deeds.standing import hold, lead_saw, tell_lead
from tooling.views.deeds.surface import film
from tooling.views.deeds.tags import open_tag, tag_found, tag_lost
from tooling.views.deeds.tins import tin
from tooling.views.deeds.together import coats, coats_together, together_now, together_rub_out, together_wiped
from tooling.views.deeds.undo import correct, rub_out, void
from tooling.views.deeds.work import (
    build_up,
    clean,
    note,
    release_check,
    strip,
    wax_wanted,
)

__all__ = [
    "abandoned",
    "accepted",
    "build_up",
    "clean",
    "coat",
    "coat_now",
    "coats",
    "coats_together",
    "correct",
    "defect_again",
    "defect_new",
    "defect_seen",
    "film",
    "hand_back",
    "hold",
    "how_off",
    "inserts_back",
    "installed",
    "interval",
    "lay_up",
    "lay_up_done",
    "lead_saw",
    "lend",
    "looked_at",
    "make_step",
    "make_work",
    "move",
    "note",
    "open_tag",
    "polish",
    "pulled",
    "put_home",
    "reading",
    "reinstated",
    "release_check",
    "release_system",
    "removed",
    "repair",
    "resurfaced",
    "rub_out",
    "seen",
    "strip",
    "tag_found",
    "tag_lost",
    "take_off_mold",
    "tell_lead",
    "tin",
    "together_now",
    "together_rub_out",
    "together_wiped",
    "void",
    "wax_wanted",
    "wiped",
]
