"""The deeds of trim masks; like those of `tooling`, each writes one entry through the one ledger."""

from trimfixtures.services.deeds.cut_into import say_cut_into
from trimfixtures.services.deeds.uses import check_edge, did_pass, log_check, log_use, trim

__all__ = ["check_edge", "did_pass", "log_check", "log_use", "say_cut_into", "trim"]
