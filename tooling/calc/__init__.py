"""Numbers and rules only: plain values in, dataclasses out. No Django, no clock, no file, no network."""
