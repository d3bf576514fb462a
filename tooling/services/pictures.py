"""Pictures of tools: added, put in order, replaced, taken down. None is deleted: the old ones stay to be seen."""

from datetime import datetime
from typing import BinaryIO, NamedTuple, TypedDict

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.utils.translation import gettext as _

from shared.errors import Refused
from shared.images import three_sizes
from tooling.models import Defect, Entry, Person, Picture, Tool, ToolChange
from tooling.services.deeds.undo import RUB_OUT_WITHIN
from tooling.services.picture_files import put

_SAME_SHAPE = 0.02


class Stored(TypedDict):
    """The columns of a picture whose files are written, and that no row names yet."""

    large: str
    middle: str
    small: str
    width: int
    height: int


class Kept(UploadedFile):  # type: ignore[type-arg]
    """A picture that came with a form which was refused: its files are stored already."""

    def __init__(self, columns: Stored) -> None:
        super().__init__()
        self.columns = columns


class Added(NamedTuple):
    """A picture that is shown of a tool now, and whether it is new: the same again is the one that is there."""

    picture: Picture
    is_new: bool


def add_picture(
    tool: Tool,
    file: BinaryIO,
    *,
    by: Person | None,
    at: datetime,
    caption: str = "",
    recorded_by: Person | None = None,
) -> Added:
    """Add a picture after the others; the first becomes the main one. The same picture again is the one there.

    Make the sizes, which refuses what is no picture; store them; lock the tool; write the row.
    """
    return add_stored(tool, store(file), by=by, at=at, caption=caption, recorded_by=recorded_by)


def add_stored(
    tool: Tool,
    columns: Stored,
    *,
    by: Person | None,
    at: datetime,
    caption: str = "",
    recorded_by: Person | None = None,
    entry: Entry | None = None,
    defect: Defect | None = None,
) -> Added:
    """The same for a picture whose files are stored already. `recorded_by`: who was signed in, where not `by`.

    One that is given with an entry never becomes the main one by itself.
    """
    with transaction.atomic():
        there = locked(tool)
        same = _same(there, columns["large"], entry.pk if entry is not None else None)
        if same is not None:
            return Added(same, is_new=False)
        new = Picture.objects.create(
            tool=tool,
            caption=_tidy(caption),
            position=max((one.position for one in there), default=0) + 1,
            main=entry is None and not any(one.main for one in there),
            added_at=at,
            added_by=by,
            recorded_by=recorded_by or by,
            entry=entry,
            defect=defect,
            **columns,
        )
        return Added(new, is_new=True)


def store(file: BinaryIO | Kept) -> Stored:
    """Make the sizes, which refuses what is no picture, and write their files; without a row they are swept."""
    if isinstance(file, Kept):
        return file.columns
    made = three_sizes(file)
    large, middle, small = (put(one.data) for one in made)
    return {"large": large, "middle": middle, "small": small, "width": made[0].width, "height": made[0].height}


def replace_picture(old: Picture, file: BinaryIO, *, by: Person | None, at: datetime) -> Picture:
    """Put another picture in the place of one, with its caption; the old one stays among the old.

    Its mark, and those of defects, stay where the new one has the same shape: then it is as a rule the same view,
    taken again.
    Make and store the sizes; lock the tool; take the old one down; write the new row.
    """
    columns = store(file)
    with transaction.atomic():
        there = locked(old.tool)
        now = still_on(old, there)
        if _same(there, columns["large"], now.entry_id) is not None:
            raise Refused(_("This picture is there already."), "files")
        new = Picture(
            tool=old.tool,
            caption=now.caption,
            position=now.position,
            main=now.main,
            added_at=at,
            added_by=by,
            recorded_by=by,
            replaces=now,
            entry=now.entry,
            **columns,
        )
        if _same_shape(now, new):
            new.mark_x, new.mark_y = now.mark_x, now.mark_y
        _take_down(now, by, at)
        new.save(force_insert=True)
        if _same_shape(now, new):
            Defect.objects.filter(picture=now).update(picture=new)
        return new


@transaction.atomic
def take_down(picture: Picture, *, by: Person | None, at: datetime) -> None:
    """Show a picture no longer, except among the old ones; the next in order becomes the main one."""
    there = locked(picture.tool)
    now = still_on(picture, there)
    was_main = now.main
    _take_down(now, by, at)
    rest = [one for one in there if one.pk != now.pk and one.entry_id is None]
    if was_main and rest:
        _choose(rest[0])


def take_back(picture: Picture, *, recorded_by: Person, at: datetime) -> None:
    """One's own picture of the last five minutes is shown no longer."""
    if not may_take_back(picture, recorded_by, at):
        raise Refused(_("Rubbing out ends five minutes after adding. A lead can take it down."))
    take_down(picture, by=picture.added_by, at=at)


def may_take_back(picture: Picture, person: Person, at: datetime) -> bool:
    """True for what was added from the same sign-in within the last five minutes, and is shown."""
    is_own = picture.recorded_by_id == person.pk and picture.taken_down_at is None
    return is_own and at - picture.added_at <= RUB_OUT_WITHIN


@transaction.atomic
def put_back(picture: Picture, *, by: Person, at: datetime) -> None:
    """Show a picture again that was taken down, after the others. What had replaced it stays as well.

    Who put it back stands among the changes of the tool, since what was known of its taking down goes.
    """
    there = locked(picture.tool)
    if _same(there, picture.large, picture.entry_id) is not None:
        raise Refused(_("This picture is there already."))
    picture.taken_down_at = picture.taken_down_by = None
    picture.position = max((one.position for one in there), default=0) + 1
    picture.main = picture.entry_id is None and not any(one.main for one in there)
    picture.save(update_fields=["taken_down_at", "taken_down_by", "position", "main"])
    ToolChange.objects.create(tool=picture.tool, at=at, who=by, field="picture", before="down", after="back")


@transaction.atomic
def make_main(picture: Picture) -> None:
    """Let a picture stand for its tool in lists and on its page."""
    now = still_on(picture, locked(picture.tool))
    Picture.objects.filter(tool=picture.tool_id, main=True).update(main=False)
    _choose(now)


@transaction.atomic
def move(picture: Picture, *, by: int) -> None:
    """Move a picture some places later in the order, or earlier where that is below 0; never past an end."""
    there = locked(picture.tool)
    now = still_on(picture, there)
    there = [one for one in there if (one.entry_id is None) == (now.entry_id is None)]
    place = there.index(now)
    there.insert(min(max(place + by, 0), len(there) - 1), there.pop(place))
    for position, one in enumerate(there, 1):
        one.position = position
    Picture.objects.bulk_update(there, ["position"])


@transaction.atomic
def set_caption(picture: Picture, caption: str, *, by: Person, at: datetime) -> None:
    """Say something else under a picture. What stood there is kept among the changes of the tool."""
    now = still_on(picture, locked(picture.tool))
    before, now.caption = now.caption, _tidy(caption)
    if now.caption == before:
        return
    now.save(update_fields=["caption"])
    ToolChange.objects.create(tool=now.tool, at=at, who=by, field="caption", before=before, after=now.caption)


def locked(tool: Tool) -> list[Picture]:
    """The pictures that are shown of a tool; nobody else changes them until this transaction ends."""
    Tool.objects.select_for_update(no_key=True).get(pk=tool.pk)
    return list(Picture.objects.on().filter(tool=tool))


def still_on(picture: Picture, there: list[Picture]) -> Picture:
    """The picture as it is now, out of those that are locked; Refused where it is shown no longer."""
    for one in there:
        if one.pk == picture.pk:
            return one
    raise Refused(_("This picture was taken down meanwhile."))


def _same(there: list[Picture], large: str, entry: int | None) -> Picture | None:
    """The picture that is shown already: of the tool itself, or with the same entry."""
    return next((one for one in there if one.large == large and one.entry_id == entry), None)


def _same_shape(one: Picture, other: Picture) -> bool:
    """Whether height to width is the same, within a few lines of the edge."""
    wide = one.width * other.height, other.width * one.height
    return abs(wide[0] - wide[1]) <= _SAME_SHAPE * max(wide)


def _take_down(picture: Picture, by: Person | None, at: datetime) -> None:
    picture.main, picture.taken_down_at, picture.taken_down_by = False, at, by
    picture.save(update_fields=["main", "taken_down_at", "taken_down_by"])


def _choose(picture: Picture) -> None:
    picture.main = True
    picture.save(update_fields=["main"])


def _tidy(caption: str) -> str:
    return " ".join(caption.split())
