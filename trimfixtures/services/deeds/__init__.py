"""The deeds of trim masks; like those of `tooling`, each writes one entry through the one ledger."""

from trimfixtures.services.deeds.uses import log_check, log_use, trim

__all__ = ["log_check", "log_use", "trim"]
