"""What a test needs of this machine to draw on paper."""

import pytest

from shared import libraries

# .ci/run leaves nothing out: there a skip is a failure.
pango = pytest.mark.skipif(bool(libraries.missing()), reason="Pango, which draws on paper")
