"""Pieces of pages: how a state, a time, a number, a tool, a field looks everywhere."""

from datetime import timedelta
from decimal import Decimal
from types import SimpleNamespace

import pytest
from django import forms
from django.template import Context, Template
from django.template.loader import render_to_string
from django.test import RequestFactory

from tests.tooling.words.samples import NOW, ZONE, status
from tooling.calc.tape import Tape
from tooling.words.status import Sentence, sentence


def shown(text: str, **given) -> str:
    """A piece of template in the shop's zone at a known moment."""
    return Template("{% load face %}" + text).render(Context({"now": NOW, "zone": ZONE} | given)).strip()


def test_a_tape_is_drawn_from_its_own_surface():
    svg = shown("{% tally tape 'DECK-2B' %}", tape=Tape(("free", "tight"), 2, None))
    assert svg.startswith('<svg class="tally" role="img"')
    assert "pull 2 tight. 2 left" in svg


def test_where_there_is_no_tape_the_section_of_the_kind_stands():
    with_tape = shown("{% tally tape 'DECK-2B' 'mold' %}", tape=Tape((), 4, None))
    without = shown("{% tally tape 'COAM-TRIM' 'trim_mask' %}", tape=None)
    assert "tally" in with_tape
    assert "kind-mark" not in with_tape
    assert "a template and a cut line" in without


@pytest.mark.parametrize(
    ("tag", "words"),
    [
        ("{% when at %}", "today 16:10"),
        ("{% when at 'clock' %}", "16:10"),
        ("{% when at 'moment' %}", "Tue 12 May 16:10"),
    ],
)
def test_a_time_says_its_words_and_keeps_its_instant(tag, words):
    html = shown(tag, at=NOW + timedelta(hours=8, minutes=30))
    assert html == f'<time datetime="2026-05-12T16:10:00+01:00">{words}</time>'


@pytest.mark.parametrize(
    ("value", "words"), [(Decimal("38.00"), "38"), (Decimal("2.10"), "2.1"), (100, "100"), (0.5, "0.5")]
)
def test_a_number_has_its_unit_and_no_idle_zeros(value, words):
    assert f">{words} kg<" in shown("{% number value 'kg' %}", value=value)


def test_a_state_says_its_word_first_and_held_has_its_mark():
    ready = status("ready", pulls_left=2)
    said = sentence(ready, family="paste_wax", now=NOW, zone=ZONE)
    assert shown("{% state 'ready' said %}", said=said) == "<b>Ready:</b> 2 pulls, then wax."
    held = sentence(status("held", why=("hold",)), family="paste_wax", now=NOW, zone=ZONE)
    assert 'aria-label="Held"' in shown("{% state 'held' said %}", said=held)
    wax = Sentence("Wax first", "<4> of 4", more=("One & more.",))
    assert shown("{% state 'needs_touch_up' said %}", said=wax) == "<b>Wax first:</b> &lt;4&gt; of 4. One &amp; more."
    assert 'aria-label="A coat is wanted' in shown("{% state 'needs_touch_up' said marks=True %}", said=wax)


def test_where_a_tool_is_comes_before_where_it_belongs():
    rack, bench, mold = (SimpleNamespace(name=name, code=name) for name in ("Rack <3>", "Bench", "DECK-2B"))

    def said(**known):
        none = dict.fromkeys(("in_mold_of", "home", "lent_until", "seen_at", "seen_place"))
        none |= {"lent": False, "lent_to": ""}
        return shown("{% where at %}", at=SimpleNamespace(**{**none, **known}))

    home = "home: Rack &lt;3&gt;"
    assert said() == ""
    assert said(home=rack) == said(home=rack, seen_at=NOW, seen_place=rack) == "· Rack &lt;3&gt;"
    assert said(home=rack, in_mold_of=mold) == f'· <span class="nb">in DECK-2B</span> · {home}'
    assert said(home=rack, seen_at=NOW, seen_place=bench) == f"· Bench · {home}"
    assert said(home=rack, seen_at=NOW) == f"· nobody knows where · {home}"
    assert said(home=rack, seen_at=NOW, lent=True, lent_to="the yard") == f"· lent to the yard · {home}"
    assert said(seen_at=NOW, lent=True) == "· lent"
    for days, until in ((1, "until tomorrow"), (30, "until ")):
        assert until in said(seen_at=NOW, lent=True, lent_to="the yard", lent_until=NOW.date() + timedelta(days=days))
    late = said(seen_at=NOW, lent=True, lent_to="the yard", lent_until=NOW.date() - timedelta(days=1))
    assert late == "· lent to the yard, not back since yesterday"


def test_marks_say_what_stops_a_use_and_usable_has_none():
    assert shown("{% state_mark 'ready' %}{% state_mark 'last_pull' %}{% state_mark 'curing' %}") == ""
    assert "A coat is wanted" in shown("{% state_mark 'needs_touch_up' %}")
    assert "A part is in it" in shown("{% state_mark 'part_in_mold' %}")


def test_five_marks_and_their_words():
    for word in ("free", "light", "tight", "stuck", "lost"):
        html = shown("{% came_off_mark word %}{{ word|came_off_word }}: {{ word|came_off_means }}", word=word)
        assert f"{word}:" in html
        assert html.startswith("<svg")


def test_a_caution_has_its_signal_word():
    for tag in ("caution", "caution_in_short"):
        html = shown(f"{{% {tag} 'pull' %}}")
        assert "<b>WARNING</b>" in html
        assert "eyes and face" in html


def test_what_was_written_can_be_rubbed_out_for_five_minutes():
    html = render_to_string("_message.html", {"words": "Written 07:52: tight.", "undo": "/undo/", "minutes": 4})
    assert 'role="status"' in html
    assert "Rub it out<small>for 4 more minutes</small>" in html
    assert "Rub it out" not in render_to_string("_message.html", {"words": "Written.", "undo": "/undo/", "minutes": 0})


def test_an_error_stands_at_its_field_and_the_input_points_to_it():
    class OneField(forms.Form):
        code = forms.CharField(label="Code", help_text="As it is written on the tool.", max_length=3)

    html = render_to_string("_fields.html", {"form": OneField({"code": "TOO-LONG"})})
    assert 'aria-describedby="id_code_helptext id_code_error"' in html
    assert 'aria-invalid="true"' in html
    assert '<ul class="error" id="id_code_error"><li>At most 3 characters' in html
    assert 'value="TOO-LONG"' in html


def test_what_stops_a_use_is_listed_with_what_mends_it():
    reasons = [SimpleNamespace(status="held", what="Held: somebody stopped it.", mend="Somebody looks at it.")]
    html = render_to_string("_reasons.html", {"reasons": reasons})
    assert "<b>Held: somebody stopped it.</b> Somebody looks at it." in html


@pytest.mark.django_db
def test_the_frame_of_a_page(client, hand):
    door = client.get("/sign-in/")
    assert '<a class="skip" href="#main">' in door.text
    assert "Sign out" not in door.text
    assert "style=" not in door.text
    client.force_login(hand, backend="shared.access.RoleBackend")
    lost = client.get("/nowhere/")
    assert lost.status_code == 404
    assert "Sign out" in lost.text
    assert hand.name in lost.text


def test_a_caution_is_folded_for_the_person_who_folded_it():
    request = RequestFactory().get("/")
    request.COOKIES["folded_cautions"] = "7.coats.pull"
    cautions = '{% caution_in_short "pull" %}{% caution_in_short "strip" %}'

    def seen_by(pk, station=False):
        request.user = SimpleNamespace(pk=pk, is_authenticated=True, is_active=True, is_station=station)
        return shown(cautions, request=request)

    pull, strip = seen_by(7).split("</details>")[:2]
    assert 'data-caution="pull" data-person="7">' in pull
    assert 'data-caution="strip" data-person="7" open>' in strip
    assert "WARNING" in pull
    assert seen_by(8).count('data-person="8" open>') == 2
    at_a_station = seen_by(7, station=True)
    assert "<details" not in at_a_station
    assert at_a_station.count("<b>WARNING</b>") == at_a_station.count('class="alert"') == 2
