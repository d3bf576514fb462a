"""One file per family of screens, as in `tooling`."""
