"""What the deeds here are done to."""

from tooling.models import Kind

TRIM_MASKS = frozenset({Kind.TRIM_MASK})
