"""A tool that a revision of a part took over from an older one, before anybody said that it is right."""

from collections.abc import Iterator

from tooling.selectors.usable.asked import Asked
from tooling.selectors.usable.reason import LEAD, Reason
from tooling.words.deeds import EDIT_SET
from tooling.words.usable_set import confirm_it, not_confirmed


def reasons(asked: Asked) -> Iterator[tuple[int, Reason]]:
    """The tool itself, where the tool set of the revision has it."""
    for tool in asked.tools:
        line = asked.lines.get(tool.pk)
        if line is not None and not line.confirmed and asked.revision is not None:
            text = not_confirmed(asked.revision.part.number, asked.revision.revision)
            yield (
                tool.pk,
                Reason(
                    "not_confirmed", tool.code, text, confirm_it(), EDIT_SET, override=LEAD, revision=asked.revision
                ),
            )
