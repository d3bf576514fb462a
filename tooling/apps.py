from typing import Any

from django.apps import AppConfig
from django.contrib.auth.signals import user_logged_out
from django.db.models.signals import post_migrate


class ToolingConfig(AppConfig):
    name = "tooling"

    def ready(self) -> None:
        from shared import busy
        from tooling import checks  # noqa: F401  (registers the system checks)
        from tooling.forms.deeds import corrected_defects
        from tooling.models import Kind
        from tooling.selectors import (
            board_more,
            defect_panel,
            jobs,
            looks_wanted,
            making_panel,
            panels,
            plug_panel,
            readings_panel,
            to_accept,
        )
        from tooling.selectors.usable import families
        from tooling.services import answer_rules, defect_rules, keeping, making_rules, reading_rules, shop
        from tooling.services.deeds import loan_rules
        from tooling.services.moving_in import kinds
        from tooling.services.tags import run as tags
        from tooling.words import plug_changes

        board_more.register_section(looks_wanted.to_look_over)
        families.make_known()
        for kind in Kind.values:
            panels.register(kind, making_panel.panel)
            panels.register(kind, defect_panel.panel)
            panels.register(kind, readings_panel.panel)
        kinds.make_known()
        keeping.make_known()
        answer_rules.make_known()
        defect_rules.make_known()
        corrected_defects.make_known()
        loan_rules.make_known()
        making_rules.make_known()
        reading_rules.make_known()
        shop.make_known()
        tags.make_known()
        plug_changes.make_known()
        board_more.register_section(to_accept.to_accept)
        panels.register(Kind.PLUG, plug_panel.panel)
        busy.at_work.append(jobs.at_work)

        user_logged_out.connect(_end_shifts, dispatch_uid="tooling.end_shifts")
        post_migrate.connect(_fill_search, sender=self, dispatch_uid="tooling.fill_search")


def _fill_search(sender: AppConfig, using: str, **kwargs: Any) -> None:
    """Tools from before there was a search get their words, from before there were tags the wish for one, and from
    before look-overs were kept the next.
    """
    from tooling.services import look_overs, search
    from tooling.services.tags import wanted

    search.fill(using)
    wanted.fill(using)
    look_overs.fill(using)


def _end_shifts(sender: Any, user: Any, **kwargs: Any) -> None:
    """A tablet that is signed out forgets who was in at it."""
    from tooling.services import shifts

    if user is not None and user.is_station:
        shifts.end_all(user)
