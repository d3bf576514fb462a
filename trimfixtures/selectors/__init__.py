"""Questions that screens ask of trim masks, each with the moment it is asked of."""
