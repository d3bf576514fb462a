"""Which program this is, as backups remember it."""

VERSION = "0.1.dev"
