"""Tags: their codes, the paper they are printed on, and what is kept of them. One deed a file."""
