"""What is typed about trim masks, and what of it is no good."""
