"""What stands beside the entries when all are written: summaries and spans, as the services lay them."""

from collections.abc import Iterable
from datetime import UTC, datetime

from bench.synth.catalogue import Works
from bench.synth.writer import Writer
from tooling.calc.spans import Member, Timeline, spans
from tooling.models import Span, Summary
from tooling.services.search import keep
from tooling.services.summaries import keep_state, row
from tooling.services.tools import relay
from tooling.services.whereabouts import keep_facts, standing

BATCH = 500
_EVER = datetime.min.replace(tzinfo=UTC)


def lay(works: Works, writer: Writer) -> None:
    """Summaries and spans of all tools; tools with a void fold again, by the service that does so."""
    numbers = range(len(works.tools))
    for start in numbers[::BATCH]:
        some = numbers[start : start + BATCH]
        summaries = Summary.objects.bulk_create(_summaries(works, writer, some))
        laid = (
            span
            for number, summary in zip(some, summaries, strict=True)
            for span in _spans(works, writer, number, summary)
        )
        Span.objects.bulk_create(laid, batch_size=BATCH)
        keep(works.tools[number].pk for number in some)
    relay(sorted(works.tools[number].pk for number in writer.dirty))


def _summaries(works: Works, writer: Writer, some: Iterable[int]) -> list[Summary]:
    mold_of = {insert: mold for mold, inserts in writer.installed.items() for insert in inserts}
    facts = standing(works.tools[number].pk for number in some)
    result = []
    for number in some:
        tool = works.tools[number]
        summary = Summary(tool=tool, count=writer.counts[number])
        summary.head = writer.heads[number] if summary.count else ""
        if number in mold_of:
            summary.in_mold_of_id = works.tools[mold_of[number]].pk
        keep_state(summary, writer.states[number], writer.keys[number])
        keep_facts(summary, facts.get(tool.pk, ()), None)
        result.append(summary)
    return result


def _spans(works: Works, writer: Writer, number: int, summary: Summary) -> list[Span]:
    """From the last deed of the tool or of an insert in it on."""
    rules = works.rules
    inside = sorted(writer.installed.get(number, ()), key=lambda insert: works.tools[insert].code)
    keys = [writer.keys[one] for one in (number, *inside)]
    since = max((key[0] for key in keys if key is not None), default=rules.now)
    timelines = [Timeline(works.tools[one].pk, ((since, writer.states[one]),)) for one in (number, *inside)]
    members = [Member(timeline, ((_EVER, None),)) for timeline in timelines[1:]]
    return [row(summary, one) for one in spans(timelines[0], members, rules.book, rules.zone, since)]
