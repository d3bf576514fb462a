"""One file a subject, each with `measure()`. `python -m bench.rows NAME` runs one on the database of the settings."""
