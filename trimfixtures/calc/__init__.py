"""Numbers of trimming: plain values in, frozen dataclasses out."""
