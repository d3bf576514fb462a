"""The forms of the deeds of trim masks, one a deed."""
