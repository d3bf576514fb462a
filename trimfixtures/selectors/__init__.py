"""One function per question that a screen asks, always with an `at`."""
