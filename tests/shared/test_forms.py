"""Fields that every form may have."""

import re

from django import forms

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
