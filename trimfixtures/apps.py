from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class TrimFixturesConfig(AppConfig):
    name = "trimfixtures"

    def ready(self) -> None:
        from tooling.forms.deeds import corrected
        from tooling.models import Kind
        from tooling.selectors import menu, panels, papers
        from tooling.words import about
        from tooling.words import entries as lines
        from trimfixtures.forms.deeds.corrected import CHECK, CUT
        from trimfixtures.selectors.trim_panel import panel
        from trimfixtures.services import sheets
        from trimfixtures.words import changes, entries

        about.register(changes.PREFIX, changes.changed)
        lines.register("check", entries.check)
        corrected.register("used", CUT)
        corrected.register("check", CHECK)
        menu.register("trim_bench", _("Trim bench"))
        menu.register("cutters", _("Cutters"), after="trim_bench")
        panels.register(Kind.TRIM_MASK, panel)
        papers.register(Kind.TRIM_MASK, papers.PaperOf(_("Trim sheet (PDF)"), "trim_sheet"))
        sheets.make_known()
