"""Tags: their codes, and the paper they are printed on."""
