"""What keeps a form from being counted twice: its token; and what is said where a page had lost it."""

from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.utils.translation import gettext as _


class TokenForm(forms.Form):
    """A form with a token. A page that lost it gets another one with what was typed, and is sent once more."""

    token = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, data: Any = None, **more: Any) -> None:
        self.lost_token = data is not None and not _is_token(data.get("token", ""))
        if self.lost_token:
            data = data.copy()
            data["token"] = str(uuid4())
        super().__init__(data, **more)
        self.initial.setdefault("token", uuid4())

    def say_lost_token(self) -> None:
        """Asks for what was lost to be sent again."""
        if self.lost_token:
            message = _("This page had lost what keeps it from being sent twice. Look it over and send it again.")
            self.add_error(None, message)


def _is_token(text: Any) -> bool:
    try:
        return bool(UUID(text))
    except (ValueError, AttributeError, TypeError):
        return False
