from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class TrimFixturesConfig(AppConfig):
    name = "trimfixtures"

    def ready(self) -> None:
        from tooling.forms.deeds import corrected
        from tooling.models import Kind
        from tooling.selectors import board_more, looking, menu, offered, panels, tag_lines, work_cautions
        from tooling.selectors.containment import looks
        from tooling.words import about
        from tooling.words import entries as lines
        from trimfixtures.forms.deeds.corrected import CHECK, CUT
        from trimfixtures.selectors import board, cautions, in_doubt, on_tags
        from trimfixtures.selectors.trim_panel import panel
        from trimfixtures.selectors.usable import families
        from trimfixtures.services import entry_rules, sheets
        from trimfixtures.words import changes, entries

        about.register(changes.PREFIX, changes.changed)
        lines.register("check", entries.check)
        lines.register("used", entries.used)
        corrected.register("used", CUT)
        corrected.register("check", CHECK)
        menu.register("trim_bench", _("Trim bench"))
        menu.register("cutters", _("Cutters"), after="trim_bench")
        families.make_known()
        panels.register(Kind.TRIM_MASK, panel)
        # Accepted or looked over says nothing of a cut edge that is true: a check does.
        looks.register(Kind.TRIM_MASK, looks.Looks(frozenset({"check"}), frozenset()))
        offered.more_readings.register(Kind.TRIM_MASK, offered.Offered(_("Checks of the cut edge"), "edge_checks"))
        looking.register(Kind.TRIM_MASK, in_doubt.beside)
        offered.papers.register(Kind.TRIM_MASK, offered.Offered(_("Trim sheet (PDF)"), "trim_sheet"))
        board_more.register_section(board.to_check)
        board_more.register_beside(board.for_parts)
        tag_lines.register(on_tags.stages)
        entry_rules.make_known()
        work_cautions.register(Kind.TRIM_MASK, cautions.at_work)
        sheets.make_known()
