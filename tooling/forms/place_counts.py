"""A count of a place: the next tag, and what mends what was found."""

from typing import Any
from uuid import uuid5

from django import forms
from django.core.validators import RegexValidator
from django.utils.translation import gettext_lazy as _

from tooling.forms.catalogue import ToolField
from tooling.forms.deeds.base import DeedForm
from tooling.models import Place, Tool
from tooling.selectors import scans


class TagForm(DeedForm):
    """The next tag: of a tool, of a place, or of nothing that anybody knows."""

    tag = forms.CharField(
        label=_("Scan or type the next tag"), max_length=300, error_messages={"required": _("Scan or type a tag.")}
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        keys = {"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}
        self.fields["tag"].widget.attrs.update({**keys, "autofocus": True, "data-scan": True})
        self.initial.setdefault("at", "now")

    @property
    def met(self) -> Tool | Place | str:
        """The tool or the place whose tag it is; what stands on it, where it is neither."""
        text: str = self.cleaned_data.get("tag", "")
        return scans.tool(text) or scans.place(text) or text


class MendForm(DeedForm):
    """One tap. `do` says what and of what: missing.FIN9; `tool`: which one a tag is that nobody knew."""

    do = forms.CharField(
        max_length=40, validators=[RegexValidator(r"^[a-z-]+(\..+)?\Z", _("Tap one of the buttons of this page."))]
    )
    tool = ToolField(max_length=300, required=False)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.initial.setdefault("at", "now")

    def said(self) -> dict[str, Any]:
        """With a token for each button of the page: two different taps are two deeds."""
        said = super().said()
        return {**said, "token": uuid5(said["token"], self.cleaned_data["do"])}

    @property
    def asked(self) -> tuple[str, str]:
        """What is to be done, and of what."""
        do, _dot, what = self.cleaned_data["do"].partition(".")
        return do, what
