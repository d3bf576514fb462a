"""The groups of the morning: what comes next for a tool, by its state."""

# The states of each group.
GROUPS = {
    "in_molds": ("part_in_mold",),
    "ready": ("ready", "last_pull"),
    "soon": ("curing", "needs_film", "film_drying"),
    "wax": ("needs_strip", "not_prepared", "preparing", "needs_touch_up"),
    "held": ("held",),
}
_OF_STATE = {status: group for group, states in GROUPS.items() for status in states}
_BY_HAND = frozenset({"plug", "mold"})
_WITH_SURFACE = frozenset({"plug", "mold", "insert"})
_KINDS = {"in_molds": _BY_HAND, "ready": _BY_HAND, "soon": _BY_HAND, "wax": _WITH_SURFACE}


def group_of(status: str, kind: str, making: bool, inside: bool) -> str:
    """The group in which a tool stands on the morning board.

    A tool in the making has a group of its own, which no state gives. What is done to a mold is done to the inserts
    in it: they have no line of their own.

    Parameters:
        status [text]: the state of the tool, with its inserts.
        kind [text]: plug, mold, insert or trim_mask.
        making [-]: whether it is still in the making.
        inside [-]: whether it is in a mold.

    Returns:
        [text] a name of GROUPS; "" where it stands in none.

    Source: the house's own rules of release.
    Example: a mold that is curing is "soon".
    """
    group = _OF_STATE.get(status, "")
    if making or kind not in _KINDS.get(group, _WITH_SURFACE | {"trim_mask"}):
        return ""
    return "" if inside and group in ("wax", "held") else group
