"""The deeds of the floor, a file a family. Each view: the tool, the form, one service call, and back to the tool."""

from tooling.views.deeds.ends import abandoned, lay_up_done
from tooling.views.deeds.lay_up import lay_up
from tooling.views.deeds.places import move, put_home
from tooling.views.deeds.pulled import pulled
from tooling.views.deeds.seen import inserts_back, seen
from tooling.views.deeds.standing import hold, looked_at
from tooling.views.deeds.surface import coat, film, strip
from tooling.views.deeds.tags import open_tag
from tooling.views.deeds.undo import correct, rub_out, void

__all__ = [
    "abandoned",
    "coat",
    "correct",
    "film",
    "hold",
    "inserts_back",
    "lay_up",
    "lay_up_done",
    "looked_at",
    "move",
    "open_tag",
    "pulled",
    "put_home",
    "rub_out",
    "seen",
    "strip",
    "void",
]
