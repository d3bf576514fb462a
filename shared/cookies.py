"""Cookies that scripts write and pages read."""

# The cautions that are folded, and by whom (caution.js): 7.coats.pull for the person 7.
FOLDED_CAUTIONS = "folded_cautions"
