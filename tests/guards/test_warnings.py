"""A warning that comes from the project's own code fails the tests."""

import warnings

import pytest


@pytest.mark.parametrize("module", ["shared.made_up", "tooling.services.made_up", "trimfixtures.made_up"])
def test_a_warning_of_our_own_is_an_error(module):
    with pytest.raises(DeprecationWarning):
        exec("import warnings; warnings.warn('old', DeprecationWarning)", {"__name__": module})


def test_a_warning_of_somebody_else_is_not():
    with warnings.catch_warnings(record=True) as seen:
        exec("import warnings; warnings.warn('old', DeprecationWarning)", {"__name__": "somebody.else"})
    assert len(seen) == 1
