"""Transactional tests of the ledger flush past the append-only triggers."""

from tests.plugin_triggers import flush_past_triggers

__all__ = ["flush_past_triggers"]
