"""The hold that goes with a pull while nobody has looked whether the tool is marked.

It is written in the same transaction as the pull, so that a page that is simply closed leaves no marked tool to be laid
up in. Whoever wrote the pull answers it a moment later: then it is voided, which puts a slip right, and frees nobody's
hold. Later it is a hold like any other.
"""

from uuid import UUID, uuid5

from tooling.models import Entry, Person
from tooling.services.ledger import record
from tooling.words.own import not_looked

# After these the tool itself may be marked.
MARKING = ("stuck", "lost")
_SPACE = UUID("6f2f2d0c-1b9e-4f5c-9f0f-6a4a1f6d6a52")


def wants_look(pull: Entry) -> bool:
    """Whether the tool may be marked, and nobody has said whether it is."""
    return pull.came_off in MARKING and pull.payload.get("tool_damaged") is None


def hold_until_looked(pull: Entry, recorded_by: Person | None) -> Entry:
    """Holds the tool from the moment at which the part came off."""
    return record(
        pull.tool,
        "hold",
        reason=not_looked(pull.came_off),
        by=pull.by,
        recorded_by=recorded_by,
        at=pull.at,
        token=_token(pull),
    )


def take_back(hold: Entry, *, reason: str, by: Person | None, recorded_by: Person | None) -> Entry:
    """Voids the hold: the same hands have looked, or the pull was another or none."""
    return record(hold.tool, "void", voids=hold, reason=reason, by=by, recorded_by=recorded_by)


def hold_of(pull: Entry) -> Entry | None:
    """The hold that was written with the pull, or with what it was before it was put right; None once it is void."""
    tokens = [_token(one) for one in _and_before(pull)]
    return Entry.objects.filter(token__in=tokens, tool=pull.tool, kind="hold").standing().first()


def pull_of(hold: Entry) -> Entry | None:
    """The standing pull that a hold was written with; None for any other hold."""
    if hold.kind != "hold" or hold.token is None:
        return None
    pulls = Entry.objects.filter(tool=hold.tool, kind="pull", at=hold.at).select_related("by", "replaces")
    standing = pulls.standing()
    return next((pull for pull in standing if hold.token in map(_token, _and_before(pull))), None)


def _token(pull: Entry) -> UUID:
    return uuid5(_SPACE, str(pull.pk))


def _and_before(pull: Entry) -> list[Entry]:
    """The entry, and those that it stands for."""
    found = [pull]
    while found[-1].replaces is not None:
        found.append(found[-1].replaces)
    return found
