"""Synthetic shops of any size from a seed: the same size and seed give the same shop, down to the last link.

The rows are written in bulk, yet the shop ends as the services would have left it: chains, seals, states, flags and
spans come from the same functions. `check_history` finds nothing in it, which a test keeps true on a small one.
"""
