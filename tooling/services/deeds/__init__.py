"""One function per deed. Each writes one entry through the ledger; screens, sheets and the demo call the same ones."""

from tooling.services.deeds.acceptance import accept_on_evidence
from tooling.services.deeds.coats import clean, lay_film, log_coat, log_sealer
from tooling.services.deeds.counted import add_with_inserts, count_inserts, place_inserts
from tooling.services.deeds.defects import come_back, find_defect, see_defects
from tooling.services.deeds.how_off import may_say_how, say_how
from tooling.services.deeds.inserts import install, remove
from tooling.services.deeds.looks import look
from tooling.services.deeds.making import accept, make_step
from tooling.services.deeds.matched import (
    HalfPulled,
    abandon_set,
    end_lay_up_set,
    lay_up_set,
    log_pull_set,
    rub_out_set,
    written_with,
)
from tooling.services.deeds.mending import mend
from tooling.services.deeds.notes import take_note, take_reading, take_readings, tell_lead
from tooling.services.deeds.places import change_home, hand_back, lend, move
from tooling.services.deeds.seen import add_to_pull
from tooling.services.deeds.standing import (
    change_release_system,
    hold,
    inspect,
    reinstate,
    retire,
    set_interval,
    set_starting_state,
)
from tooling.services.deeds.surface import check_release, polish, repair, resurface, see_build_up, strip, want_wax
from tooling.services.deeds.taking_back import correct_set, void_set
from tooling.services.deeds.taking_off import PulledMeanwhile, take_off, take_off_set
from tooling.services.deeds.together import coat_together, rub_out_together
from tooling.services.deeds.undo import correct, gone, put_right, rub_out, void
from tooling.services.deeds.uses import abandon, end_lay_up, lay_up, log_pull

__all__ = [
    "HalfPulled",
    "PulledMeanwhile",
    "abandon",
    "abandon_set",
    "accept",
    "accept_on_evidence",
    "add_to_pull",
    "add_with_inserts",
    "change_home",
    "change_release_system",
    "check_release",
    "clean",
    "coat_together",
    "come_back",
    "correct",
    "correct_set",
    "count_inserts",
    "end_lay_up",
    "end_lay_up_set",
    "find_defect",
    "gone",
    "hand_back",
    "hold",
    "inspect",
    "install",
    "lay_film",
    "lay_up",
    "lay_up_set",
    "lend",
    "log_coat",
    "log_pull",
    "log_pull_set",
    "log_sealer",
    "look",
    "make_step",
    "may_say_how",
    "mend",
    "move",
    "place_inserts",
    "polish",
    "put_right",
    "reinstate",
    "remove",
    "repair",
    "resurface",
    "retire",
    "rub_out",
    "rub_out_set",
    "rub_out_together",
    "say_how",
    "see_build_up",
    "see_defects",
    "set_interval",
    "set_starting_state",
    "strip",
    "take_note",
    "take_off",
    "take_off_set",
    "take_reading",
    "take_readings",
    "tell_lead",
    "void",
    "void_set",
    "want_wax",
    "written_with",
]
