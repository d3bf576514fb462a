"""Every page of the program, as it is looked at: its address in the demo shop, and who opens it.

An address that is missing here fails tests/guards/test_looks.py.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from django.http import HttpResponse

from tests.browser import demo, moving

LEAD, TABLET, READER, NOBODY = "Ines", "Wall tablet", "Bookkeeper", ""
NOWHERE = "/no-such-page/"


@dataclass(frozen=True)
class Page:
    """What it is called among the pictures, and where it stands: an address, or what finds one out in the shop.

    Where no address leads to the page, `reply` sends what brings it about.
    """

    name: str
    address: str | Callable[[], str]
    by: str = LEAD
    reply: Callable[[], HttpResponse] | None = None
    status: int = 200

    def at(self) -> str:
        return self.address if isinstance(self.address, str) else self.address()


PAGES = (
    Page("board", "/"),
    Page("board-station", "/", TABLET),
    Page("wall", "/wall/", TABLET),
    Page("try", "/try/"),
    Page("try-station", "/try/", TABLET),
    Page("wall-reader", "/wall/", READER),
    Page("sign-out-station", "/sign-out/", TABLET, partial(demo.sent, "/sign-out/", by=TABLET)),
    Page("find-pictures", "/tools/"),
    Page("find-list", "/tools/?view=list"),
    Page("find-word", "/tools/?q=deck"),
    Page("find-filtered", "/tools/?kind=mold&place=HALL&held=no&sort=left&view=list"),
    Page("find-near", "/tools/?q=kyaak&kind=mold"),
    Page("find-nothing", "/tools/?q=zzzzz"),
    # A tool of each state, and of each kind
    Page("tool-ready", "/tools/DECK-2B/"),
    Page("tool-time-up", "/tools/DECK-2A/"),
    Page("tool-curing", "/tools/HULL520/"),
    Page("tool-last-pull", "/tools/12.PORT/"),
    Page("tool-in-mold", "/tools/12.STBD/"),
    Page("tool-plug-in-use", "/tools/14-PLUG/"),
    Page("tool-in-making", "/tools/14.HULL/"),
    Page("tool-bare", "/tools/PLUG520/"),
    Page("tool-hard-pull", "/tools/RUDDER-L/"),
    Page("tool-film", "/tools/SEAT3/"),
    Page("tool-preparing", "/tools/SHELLDECK/"),
    Page("tool-strip-first", "/tools/SKEGBOX/"),
    Page("tool-wax-first", "/tools/TN-DECK/"),
    Page("tool-held", "/tools/TN-HULL/"),
    Page("tool-insert", "/tools/HATCH7/"),
    Page("tool-trim-mask", "/tools/COAM-TRIM/"),
    Page("tool-new", f"/tools/{demo.BARE}/"),
    Page("tool-long-names", f"/tools/{demo.LONG}/"),
    Page("tool-reader", "/tools/DECK-2B/", READER),
    Page("tool-form-new", "/tools/new/"),
    Page("tool-form", "/tools/DECK-2B/change/"),
    Page("tool-form-wrong", "/tools/new/", reply=partial(demo.sent, "/tools/new/", code="SP ACE", mass="heavy")),
    Page("pictures", "/tools/DECK-2B/pictures/"),
    Page("pictures-old", "/tools/TN-HULL/pictures/"),
    Page("pictures-none", f"/tools/{demo.BARE}/pictures/"),
    Page("picture", demo.a_picture),
    Page("pictures-with-a-stop", demo.pictures_of_a_stop),
    Page("pictures-many", "/pictures/"),
    Page("serials", "/serials/?tool=DECK-2A"),
    Page("serials-wrong", "/serials/?tool=DEKC&from=2026-05-09&until=2026-05-08"),
    Page("serial", "/serials/0001/?part=SHELL12-HULL"),
    Page("serial-known-then", demo.a_corrected_serial),
    Page("serial-of-several", "/serials/0001/"),
    Page("serial-unknown", "/serials/nought/", status=404),
    Page("racks", "/racks/"),
    Page("place", "/racks/B-2/"),
    Page("place-with-places", "/racks/HALL/"),
    Page("place-empty", "/racks/TRIM-BENCH/"),
    Page("place-long-names", f"/racks/{demo.LONG_PLACE}/"),
    Page("places-new", "/racks/new/"),
    Page("place-change", "/racks/B-1/change/"),
    Page("place-station", "/racks/B-1/", TABLET),
    Page("place-wrong", "/racks/B-1/seen/", TABLET, partial(demo.sent, "/racks/B-1/seen/", by=TABLET, tool="NO-SUCH")),
    Page("parts", "/parts/"),
    Page("part", "/parts/SK520-DECK/"),
    Page("part-work", "/parts/RUDDER/"),
    Page("part-cannot", "/parts/HARBOR-HULL/", READER),
    Page("part-start-by", "/parts/SHELL12-HULL/?wanted=2020-01-01T08:00"),
    Page("part-new", "/parts/new/"),
    Page("part-revise", "/parts/SK520-DECK/revise/"),
    Page("part-change", demo.a_revision),
    Page("set", "/parts/SK520-DECK/set/"),
    Page("set-not-confirmed", "/parts/SK440-DECK/set/"),
    Page("set-line", demo.a_set_line),
    Page("set-empty", demo.an_empty_set),
    Page("set-wrong", "/parts/SK520-DECK/set/?revision=B", reply=demo.a_tool_that_is_meant),
    Page("set-into", "/tools/DECK-2B/into-set/"),
    Page("recipes", "/recipes/"),
    Page("recipe", "/recipes/SEMI/"),
    Page("recipe-change", "/recipes/SEMI/change/"),
    Page("recipe-new", "/recipes/new/?from=SEMI"),
    Page("people", "/people/"),
    Page("person", demo.a_person),
    Page("person-new", "/people/new/"),
    Page("join-not-open", "/join/none/", NOBODY, status=404),
    Page("shop", "/shop/"),
    Page("temperature", "/temperature/"),
    Page("temperature-station", "/temperature/?value=21.5", TABLET),
    Page("temperature-strike", demo.a_temperature),
    Page("walk", "/walk/"),
    Page("starting-state", "/tools/DECK-2B/starting-state/"),
    Page("import", "/import/"),
    Page("import-match", moving.to_match),
    Page("import-words", moving.to_say_words),
    Page("import-one", moving.tried),
    Page("import-waiting", "/import/"),
    Page("job", moving.a_job),
    Page("jobs", "/jobs/"),
    Page("tags", "/tags/"),
    Page("tags-reader", "/tags/", READER),
    Page("tags-print", "/tags/print/?tool=DECK-2A&tool=COAM-A&codes=NOWHERE"),
    Page("tags-held", "/tags/print/?of=find&held=yes", TABLET),
    Page("tags-printed", demo.printed_tags),
    Page("deed-tag-lost", "/tools/DECK-2A/tag-lost/", TABLET),
    Page("keep", "/keep/"),
    Page("keep-seal", "/keep/seal/"),
    Page("keep-seal-unknown", "/keep/seal/?seal=none"),
    Page("settings", "/me/"),
    Page("sign-in", "/sign-in/", NOBODY),
    Page("sign-in-wrong", "/sign-in/", NOBODY, partial(demo.sent, "/sign-in/", by=NOBODY, username="Ines")),
    Page("error-400", "/400/", reply=partial(demo.refused, 400), status=400),
    Page("error-403", "/recipes/WAX/change/", TABLET, status=403),
    Page("error-403-open-too-long", "/403/", reply=demo.open_too_long, status=403),
    Page("error-404", NOWHERE, status=404),
    Page("error-404-tool", "/tools/DECK2/", status=404),
    Page("error-409", "/409/", reply=partial(demo.refused, 409), status=409),
    Page("error-500", "/500/", reply=demo.broken, status=500),
    # The deeds; those that write something come last, since they change the tools above
    Page("deed-lay-up-go", "/tools/DECK-2B/lay-up/"),
    Page("deed-lay-up-no-go", "/tools/TN-HULL/lay-up/"),
    Page("deed-lay-up-station", "/tools/DECK-2B/lay-up/", TABLET),
    Page("deed-lay-up-done", "/tools/DECK-2A/lay-up-done/"),
    Page("deed-abandoned", "/tools/12.STBD/abandoned/"),
    Page("deed-pulled", "/tools/DECK-2A/pulled/"),
    Page("deed-pulled-station", "/tools/12.STBD/pulled/", TABLET),
    Page("deed-coat", "/tools/SHELLDECK/coat/"),
    Page("deed-coat-first", "/tools/TN-DECK/coat/"),
    Page("deed-coat-film", "/tools/SEAT3/coat/"),
    Page("coats-several", "/coats/"),
    Page("coats-together", "/coats/together/?tool=TN-DECK&tool=RUDDER-L"),
    Page("coats-together-station", "/coats/together/?tool=TN-DECK&tool=SHELLDECK&tool=NONE", TABLET),
    Page("tin", "/recipes/WAX/tin/"),
    Page("deed-film", "/tools/SEAT3/film/"),
    Page("deed-strip", "/tools/SKEGBOX/strip/"),
    Page("deed-repair", "/tools/TN-HULL/repair/"),
    Page("deed-polish", "/tools/DECK-2B/polish/"),
    Page("deed-resurfaced", "/tools/DECK-2B/resurfaced/"),
    Page("deed-clean", "/tools/SEAT3/clean/"),
    Page("deed-build-up", "/tools/DECK-2B/build-up/"),
    Page("deed-release-check", "/tools/DECK-2B/release-check/"),
    Page("deed-coat-wanted", "/tools/DECK-2B/coat-wanted/"),
    Page("deed-installed", "/tools/DECK-2B/installed/", TABLET),
    Page("deed-removed", "/tools/DECK-2B/removed/"),
    Page("deed-interval", "/tools/DECK-2B/interval/"),
    Page("deed-recipe", "/tools/DECK-2B/release-system/"),
    Page("deed-recipe-shown", "/tools/DECK-2B/release-system/", reply=demo.another_recipe),
    Page("deed-accepted", "/tools/14.HULL/accepted/"),
    Page("deed-reinstated", "/tools/DECK-1/reinstated/"),
    Page("deed-note", "/tools/COAM-TRIM/note/"),
    Page("deed-reading", "/tools/DECK-2B/reading/"),
    Page("deed-hold", "/tools/DECK-2B/hold/"),
    Page("deed-tell-lead", "/tools/DECK-2B/tell/"),
    Page("deed-looked-at", "/tools/TN-HULL/looked-at/"),
    Page("deed-move", "/tools/DECK-2B/move/"),
    Page("deed-void", partial(demo.an_entry, "void")),
    Page("deed-correct", partial(demo.an_entry, "correct")),
    Page("deed-seen-free", partial(demo.just_pulled, "DECK-2A", "free")),
    Page("deed-inserts-back", partial(demo.an_entry, "inserts_back")),
    Page("deed-how-off", demo.half_not_said),
    Page("tool-just-written", "/tools/DECK-2A/"),
    Page("deed-pulled-before", "/tools/DECK-2A/pulled/"),
    Page("deed-seen-stuck", partial(demo.just_pulled, "12.STBD", "stuck")),
    Page("tool-just-stuck", "/tools/12.STBD/"),
    Page("deed-rub-out-station", demo.just_coated, TABLET),
    Page("wall-just-written", "/wall/", TABLET),
)  # fmt: skip

# The pages of a shop that holds nothing yet
FIRST = (
    Page("first-lead", demo.first_lead, NOBODY),
    Page("board-empty", "/", demo.FIRST_LEAD),
    Page("find-empty", "/tools/", demo.FIRST_LEAD),
    Page("racks-empty", "/racks/", demo.FIRST_LEAD),
    Page("parts-empty", "/parts/", demo.FIRST_LEAD),
    Page("recipes-empty", "/recipes/", demo.FIRST_LEAD),
    Page("tool-form-empty", "/tools/new/", demo.FIRST_LEAD),
    Page("walk-empty", "/walk/", demo.FIRST_LEAD),
    Page("first-place", "/begin/place/", demo.FIRST_LEAD),
    Page("first-recipe", "/begin/recipe/", demo.FIRST_LEAD),
    Page("first-tool", "/begin/tool/", demo.FIRST_LEAD),
    Page("import-empty", "/import/", demo.FIRST_LEAD),
    Page("keep-empty", "/keep/", demo.FIRST_LEAD),
    Page("keep-seal-empty", "/keep/seal/", demo.FIRST_LEAD),
    Page("jobs-empty", "/jobs/", demo.FIRST_LEAD),
)
