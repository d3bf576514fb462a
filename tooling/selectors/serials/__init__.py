"""Serial numbers: which tools made one and in what state of release, and what a tool made in a stretch of time."""
