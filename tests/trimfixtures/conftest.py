"""The clock and the people of the pages' tests, as those of `tooling` have them."""

from tests.tooling.views.conftest import morning, sign_in

__all__ = ["morning", "sign_in"]
