"""A view whose forms ask whose hands it was takes a PIN, and no report of an error may show it."""

import inspect
from types import FunctionType

from django.forms import BaseForm
from django.urls import get_resolver

from tests.guards.test_roles import patterns
from tooling.forms.deeds.hands import PersonField
from tooling.views.same_hand import asks_same_hand


def asks_hands(thing):
    is_form = inspect.isclass(thing) and issubclass(thing, BaseForm)
    asked = is_form and any(isinstance(one, PersonField) for one in thing.base_fields.values())
    return asked or thing is asks_same_hand


def named(view, seen):
    """What a view names, and what the functions beside it name that it calls."""
    for name in view.__code__.co_names:
        thing = view.__globals__.get(name)
        yield thing
        if isinstance(thing, FunctionType) and thing.__module__ == view.__module__ and thing not in seen:
            seen.add(thing)
            yield from named(inspect.unwrap(thing), seen)


def test_every_view_that_asks_whose_hands_hides_the_pin():
    views = {one.name: one.callback for one in patterns(get_resolver()) if hasattr(one.callback, "__code__")}
    asking = {name for name, view in views.items() if any(map(asks_hands, named(inspect.unwrap(view), set())))}
    assert {"pulled", "temperature", "entry_pictures", "together_rub_out", "pictures"} <= asking
    assert not [name for name in sorted(asking) if not getattr(views[name], "hides_pin", False)]
