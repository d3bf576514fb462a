"""Only a few addresses answer without signing in."""

from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.urls import URLResolver, get_resolver

OPEN = {"healthz", "sign_in", "first_lead"}


def patterns(resolver):
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from patterns(entry)
        else:
            yield entry


def test_every_other_address_wants_a_signed_in_person(settings):
    assert f"{LoginRequiredMiddleware.__module__}.{LoginRequiredMiddleware.__name__}" in settings.MIDDLEWARE
    found = {entry.name for entry in patterns(get_resolver()) if not getattr(entry.callback, "login_required", True)}
    assert found == OPEN
