"""Every address that shows something is among the pages that are looked at."""

import pytest
from django.urls import get_resolver, resolve

from tests.browser import demo
from tests.browser.pages import FIRST, NOWHERE, PAGES
from tests.guards.test_roles import patterns

# Why nobody looks at it.
NO_PAGE = {
    "rub_out_temperature": "only ever sent",
    "healthz": "one word for machines",
    "tools_table": "a table to be kept",
    "serials_table": "a table to be kept",
    "took_table": "a table to be kept",
    "readings_table": "a table to be kept",
    "made_since_table": "a table to be kept",
    "lot_made_table": "a table to be kept",
    "made_since_sheet": "paper",
    "lot_made_sheet": "paper",
    "tool_sheet": "paper",
    "look_sheet": "paper",
    "family_sheet": "paper",
    "tool_set_sheet": "paper",
    "rack_sheet": "paper",
    "trim_sheet": "paper",
    "plug_sheet": "paper",
    "acceptance_record": "paper",
    "check_sheet": "paper",
    "picture_file": "a picture, not a page",
    "mark_picture": "only ever sent",
    "lead_saw": "leads to the board",
    "open_tag": "leads to the tool",
    "open_tag_printed": "leads to the tool",
    "open_place": "leads to the place",
    "open_place_printed": "leads to the place",
    "begin_count": "only ever sent",
    "mend_count": "only ever sent",
    "seen_at": "leads to the place, unless what was sent is wrong",
    "sign_out": "only ever sent; what a station is asked then is looked at as a reply",
    "take_in_recipe": "only ever sent",
    "put_home": "only ever sent",
    "coat_now": "the pieces of the page of coats that change",
    "wiped": "only ever sent",
    "together_now": "the pieces of the page of several tools that change",
    "together_wiped": "only ever sent",
    "together_rub_out": "only ever sent",
    "wall_rows": "a piece of the wall",
    "import_template": "a workbook",
    "import_try": "only ever sent",
    "import_again": "leads to the upload, unless what was sent is wrong",
    "import_marked_up": "a workbook",
    "import_bring_in": "only ever sent",
    "import_drop": "only ever sent",
    "export": "only ever sent",
    "cancel_job": "only ever sent",
    "job_file": "a file",
    "tag_found": "only ever sent",
    "tag_address_reserved": "only ever sent",
    "put_back_tags": "only ever sent",
    "printed_tags_file": "a file",
    "back_up_now": "only ever sent",
    "check_now": "only ever sent",
    "backup_file": "a file",
    "take_back": "only ever sent",
    "leave_steps": "only ever sent",
    "take_off_wanted": "only ever sent",
    "rub_out_wanted": "only ever sent",
}


@pytest.mark.django_db
def test_every_address_is_looked_at():
    demo.load()
    shown = [page.at() for page in (*PAGES, *FIRST) if page.reply is None and page.address != NOWHERE]
    looked_at = {resolve(address.partition("?")[0]).url_name for address in shown}
    assert {entry.name for entry in patterns(get_resolver())} == looked_at | set(NO_PAGE)
    assert not looked_at & set(NO_PAGE)


def test_each_has_a_name_of_its_own():
    names = [page.name for page in (*PAGES, *FIRST)]
    assert len(names) == len(set(names))
