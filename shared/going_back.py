"""The page of ours that a form or an address leads back to."""

from django.utils.http import url_has_allowed_host_and_scheme


def local(back: str) -> str:
    """The path, where it is one of this server's; "" for any other text: a bare word is the name of no page."""
    return back if back.startswith("/") and url_has_allowed_host_and_scheme(back, allowed_hosts=None) else ""
