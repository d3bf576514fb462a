"""Which checklist is gone through at a tool of a kind, as of a moment; and the versions that there were."""

from datetime import datetime

from django.db.models import Count

from tooling.models import Checklist


def checklist_at(kind: str, purpose: str, at: datetime) -> Checklist | None:
    """The version that is valid then, with its `items`; None where nothing is asked. Two queries."""
    found = Checklist.objects.filter(kind=kind, purpose=purpose, valid_from__lte=at).order_by("valid_from", "version")
    version = found.prefetch_related("items").last()
    return version if version is not None and version.items.all() else None


def version_of(kind: str, purpose: str, number: int | None) -> Checklist | None:
    """That version, with its `items`; None where there is none, or none is named."""
    if number is None:
        return None
    found = Checklist.objects.filter(kind=kind, purpose=purpose, version=number)
    return found.select_related("made_by").prefetch_related("items").first()


def versions(kind: str, purpose: str) -> list[Checklist]:
    """All of them, the newest first, each with its number of lines as `lines`."""
    found = Checklist.objects.filter(kind=kind, purpose=purpose).select_related("made_by")
    return list(found.annotate(lines=Count("items")).order_by("-version"))
