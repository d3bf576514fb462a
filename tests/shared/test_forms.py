"""Fields that every form may have."""

import re

from django import forms
from django.urls import get_resolver

from shared.forms import QuickSelect


class Asked(forms.Form):
    place = forms.ChoiceField(choices=[("", "anywhere"), ("<a>", "Rack “A” & <b>"), (7, "Shelf 7")], widget=QuickSelect)


def test_a_quick_select_is_what_the_slow_one_is():
    slow = type("Slow", (forms.Form,), {"place": forms.ChoiceField(choices=Asked.base_fields["place"].choices)})
    for data in ({}, {"place": "<a>"}, {"place": "7"}, {"place": "nowhere"}):
        quick, wanted = str(Asked(data)["place"]), str(slow(data)["place"])
        # the same elements, attributes and words, in whatever order the attributes stand
        assert sorted(re.split(r"[\s<>]+", quick)) == sorted(re.split(r"[\s<>]+", wanted))
        assert ("selected" in quick) == (data.get("place") != "nowhere")


# What the framework says of its own.
FOREIGN = re.compile(
    "This field|Select a valid|available choices|Ensure |Enter a|Null char|submitted|cannot be (null|blank)"
)


def _every_form(of=forms.BaseForm):
    return {form for sub in of.__subclasses__() for form in {sub, *_every_form(sub)}}


def test_no_field_of_any_form_speaks_in_the_words_of_the_framework():
    get_resolver().url_patterns  # noqa: B018  (brings every view in, and its forms)
    ours = [form for form in _every_form() if form.__module__.startswith(("shared.", "tooling.", "trimfixtures."))]
    assert len(ours) > 20
    foreign = {
        (f"{form.__name__}.{name}", sentence)
        for form in ours
        for name, field in form.base_fields.items()
        for sentence in _said_by(field)
        if FOREIGN.search(sentence)
    }
    assert foreign == set()


def _said_by(field):
    return [
        str(one) for one in (*field.error_messages.values(), *(getattr(v, "message", "") for v in field.validators))
    ]


def test_what_is_missing_or_not_offered_is_said_with_what_to_do():
    form = Asked({"place": "boat"})
    assert form.errors["place"] == ["Choose one of those offered."]
    assert Asked({}).errors["place"] == ["Fill this in."]
