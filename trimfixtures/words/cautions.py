"""What a caution says of the work at a trim mask: of each way of cutting that its cuts have, and of nothing else.

Common practice, no source; each defers to the supplier's sheet and the local code.
"""

from collections.abc import Collection, Iterable, Iterator

from django.utils.translation import gettext as _

from tooling.words.cautions import CAUTION, WARNING, Caution
from trimfixtures.models import Feature, FeatureKind, Kept, Method

_ROUTER, _SAW, _DRILL = "router", "saw", "drill"
_WORK = {Method.GUIDE_BUSHING: _ROUTER, Method.BEARING: _ROUTER}
# Where nobody has written the cuts down: what most of them are made with.
_NOT_KNOWN = frozenset({_ROUTER, _SAW})
_TURNING = frozenset({_ROUTER, _SAW, _DRILL})


def at_work(methods: Collection[str], seals: Iterable[str] = ()) -> list[Caution]:
    """The cutting by these methods, first; behind it the sealing, where one of the edges is sealed."""
    works = frozenset(_WORK.get(Method(one), str(one)) for one in methods) or _NOT_KNOWN
    return [_cutting(works), *([sealing()] if any(map(is_sealed, seals)) else [])]


def is_sealed(words: str) -> bool:
    """Whether resin is wanted for it: whatever is said that is not a plain no."""
    bare = {_("left bare"), _("bare"), _("not sealed"), _("no"), _("none"), "-", ""}
    return words.strip(" .").casefold() not in {str(one).casefold() for one in bare}


def _cutting(works: frozenset[str]) -> Caution:
    """Folded away it says which works: another trim mask has other ones."""
    signal = CAUTION if works == {Method.SCRIBE} else WARNING
    about = "_".join(("trim", *sorted(works)))
    return Caution(signal, " ".join(_short(works)), " ".join(_whole(works)), about, _("Trimming"))


def _short(works: frozenset[str]) -> Iterator[str]:
    if works & _TURNING:
        yield _("Respirator, eyes, ears, extraction.")
        yield _("No gloves at a turning %(what)s.") % {"what": _turns(works)}
        if _ROUTER in works:
            yield _("Clamp; feed against the turn.")
        else:
            yield _("Clamp: a drill grabs.") if _DRILL in works else _("Clamp the part.")
    if _SAW in works:
        yield _("Guard on, no hand in line with the blade.")
    if Method.KNIFE in works:
        yield _("No hand before the knife. Resin not hard yet sensitises: gloves, ventilation.")
    if works == {Method.SCRIBE}:
        yield _("The point stabs: eyes, the other hand clear of its way.")


def _whole(works: frozenset[str]) -> Iterator[str]:
    turning = works & _TURNING
    if turning:
        yield _(
            "Dust of glass and carbon: respirator, eyes, ears, extraction made for it, no blowing off; carbon’s also "
            "conducts: keep it out of motors, sockets and chargers."
        )
        yield _("Clamp the part, no gloves at a turning %(what)s.") % {"what": _turns(works)}
    if _ROUTER in works:
        yield _("Feed a router against its turn.")
    if _DRILL in works:
        yield _("A drill grabs and spins what a hand holds.")
    if _SAW in works:
        yield _("Saw: guard on, riving knife where it has one, no hand in line with the blade.")
    if turning:
        yield _change(works)
    if Method.KNIFE in works:
        yield _knife()
        if turning:
            yield _("Gloves off again before anything turns.")
    if Method.SCRIBE in works:
        yield _("A scribe’s point stabs: eyes, the other hand clear of its way.")


def _turns(works: frozenset[str]) -> str:
    """The word for all that turns."""
    turning = works & _TURNING
    return {frozenset({_SAW}): _("blade"), frozenset({_DRILL}): _("drill")}.get(turning, _("cutter"))


def _change(works: frozenset[str]) -> str:
    text = _(
        "Plug out before a %(what)s is changed; its supplier’s sheet says how fast it may turn; none that is chipped."
    )
    return text % {"what": _("cutter or guide bushing") if _ROUTER in works else _turns(works)}


def _knife() -> str:
    return _(
        "Knife: no hand in its way, and cover it when it is laid down. Resin that is not hard yet sensitises the skin, "
        "its vapour harms: gloves, ventilation, no flame, no router or saw in it."
    )


def sealing() -> Caution:
    """Of the resin for the cut edge."""
    return Caution(
        WARNING,
        _("Catalyst blinds: eye protection. Resin sensitises the skin: gloves. No flame, ventilation."),
        _(
            "Peroxide catalyst blinds: eye protection, and never mixed directly with accelerator. Resin and hardener "
            "sensitise the skin, their vapours burn and harm: gloves, ventilation, no flame. What is left in the pot, "
            "and rags with it, heats itself: the shop’s own way for resin waste."
        ),
        "seal",
        _("Sealing the cut edge"),
    )


def changing() -> Caution:
    """At the library of cutters: whoever measures or changes one has a hand at it."""
    return Caution(
        WARNING,
        _("Plug out before a cutter or guide bushing is changed or measured; its edges cut."),
        _(
            "Plug out before a cutter or guide bushing is changed or measured; its edges cut. Its supplier’s sheet "
            "says how fast it may turn and how far its shank goes in. A chipped, cracked or worn one is not used."
        ),
        "cutters",
        _("Changing a cutter"),
    )


def checking() -> Caution:
    """A part that was just cut is held in the hand."""
    return Caution(
        CAUTION,
        _("Plug out first. A fresh edge and its splinters cut: gloves, eyes."),
        _(
            "Nothing turns while a part is held against a gauge: plug out first. A fresh edge and its splinters cut: "
            "gloves, eyes covered. Its dust is taken up with extraction, not blown off."
        ),
        "check",
        _("Checking the cut edge"),
    )


def jumped() -> Caution:
    """A cutter or a knife has just left its way."""
    return Caution(
        WARNING,
        _("Off, everything still, plug out. Is somebody hurt: help first, the rest can wait."),
        _("Off, everything still, plug out. Is somebody hurt: help first, the rest can wait."),
        "jumped",
        _("After a slip"),
    )


def comes_free(feature: Feature) -> str:
    """What to do about the piece that is loose at the end of a cut; "" where there is none."""
    if feature.method in (Method.DRILL, Method.SCRIBE) or feature.kind == FeatureKind.MARK:
        return ""
    if feature.kept == Kept.FAR_SIDE:
        said = _("Here the part itself comes free: hold or tab it.")
    elif feature.kind in (FeatureKind.CUT_OUT, FeatureKind.HOLE):
        said = _("Hold or tab the piece that comes free.")
    else:
        return ""
    if feature.method == Method.KNIFE:
        return said
    return f"{said} {_('Lift nothing until the cutter stands still.')}"
