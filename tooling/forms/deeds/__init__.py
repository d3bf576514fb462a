"""The forms of the deeds, one a deed."""
