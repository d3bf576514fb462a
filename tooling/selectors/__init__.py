"""One function per question that a screen or command asks, always with an `at`."""
