"""What is wrong with this installation, said before anything runs."""

from typing import Any

from django.core.checks import CheckMessage, Error, register

from shared import environment


@register()
def settings_are_usable(app_configs: Any, **kwargs: Any) -> list[CheckMessage]:
    """Every setting of the environment that could not be used as given."""
    return [Error(problem.message, hint=problem.hint, id=problem.id) for problem in environment.problems]
