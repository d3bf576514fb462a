"""The rules of access, as a full table."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse

from shared import access

#          role        read   log    lead   station
TABLE = [
    ("", False, False, False, False),
    ("reader", True, False, False, False),
    ("hand", True, True, False, False),
    ("station", True, True, False, True),
    ("lead", True, True, True, False),
]
RULES = (access.can_read, access.can_log, access.can_lead, access.is_station)


@pytest.mark.parametrize(("role", *"abcd"), TABLE)
def test_a_role_may_do_what_the_table_says(role, a, b, c, d, django_user_model):
    person = django_user_model(name="Somebody", role=role)
    assert tuple(rule(person) for rule in RULES) == (a, b, c, d)


@pytest.mark.parametrize(("role", *"abcd"), TABLE)
def test_a_deed_of_a_lead_is_for_leads(role, a, b, c, d, django_user_model):
    person = django_user_model(name="Somebody", role=role)
    assert (access.can_do(person, as_lead=False), access.can_do(person, as_lead=True)) == (b, c)


@pytest.mark.parametrize("rule", RULES)
def test_a_stranger_and_somebody_who_left_may_nothing(rule, django_user_model):
    assert not rule(AnonymousUser())
    assert not rule(django_user_model(name="Gone", role="lead", is_active=False))


def test_a_view_opens_only_to_those_the_rule_names(rf, django_user_model):
    view = access.needs(access.can_lead)(lambda request, code: HttpResponse(code))
    request = rf.get("/")
    request.user = django_user_model(name="Somebody", role="hand")
    with pytest.raises(PermissionDenied):
        view(request, "DECK-2A")
    request.user.role = "lead"
    assert view(request, code="DECK-2A").content == b"DECK-2A"


@pytest.mark.parametrize(
    ("address", "header", "counts"),
    [
        ("127.0.0.1", None, "127.0.0.1"),
        ("127.0.0.1", "198.51.100.4", "198.51.100.4"),
        ("127.0.0.1", "203.0.113.9, 198.51.100.4", "198.51.100.4"),
        ("::1", "2001:db8::7", "2001:db8::7"),
        ("", "198.51.100.4", "198.51.100.4"),
        ("127.0.0.1", "198.51.100.4, someone", "127.0.0.1"),
        ("192.0.2.7", "198.51.100.4", "192.0.2.7"),
    ],
)
def test_a_web_server_is_believed_only_on_this_machine_and_only_its_own_word(rf, address, header, counts):
    more = {} if header is None else {"HTTP_X_FORWARDED_FOR": header}
    assert access.address_tried(rf.get("/", REMOTE_ADDR=address, **more)) == counts
