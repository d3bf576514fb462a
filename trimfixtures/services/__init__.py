"""One function per deed, as in `tooling`."""
