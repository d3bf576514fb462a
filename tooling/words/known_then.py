"""What was thought of a serial number at an earlier moment, and is known otherwise now: a sentence each."""

from typing import Any

from django.utils.translation import gettext as _

from tooling.words.serials import Said, coats_said, from_tools, outcome, stood


def changed(now: Any, then: Any, day: str, said: Said) -> list[str]:
    """What was thought then and is known otherwise now, a sentence each; `then` None: nothing was written."""
    if then is None:
        return [_("On %(day)s nobody had written it down.") % {"day": day}]
    was, is_ = _facts(then, said), _facts(now, said)
    found = [_sentence(key, was.get(key, ""), is_.get(key, ""), day) for key in dict.fromkeys([*was, *is_])]
    return [text for text in found if text] or [_("Nothing of it is known otherwise now.")]


def _sentence(key: tuple[str, str], was: str, is_: str, day: str) -> str:
    of, label = key
    if was == is_:
        return ""
    if not label:
        said = {"day": day, "was": was, "is": is_}
        if was and is_:
            return _("On %(day)s it was thought to be %(was)s; it is %(is)s.") % said
        return _("On %(day)s it was thought to be %(was)s.") % said if was else ""
    what_ = _("%(what)s on %(tool)s") % {"what": label, "tool": of} if of else label
    was, is_ = (_("“%(words)s”") % {"words": words} if words else "" for words in (was, is_))
    said = {"what": what_, "day": day, "was": was or _("nothing was known"), "is": is_ or _("nothing any more")}
    return _("%(what)s: on %(day)s %(was)s, now %(is)s.") % said


def _facts(story: Any, said: Said) -> dict[tuple[str, str], str]:
    """What can be known otherwise, by the tool and by what it is; which tool it was stands first."""
    found = {("", ""): from_tools([one.tool for one in story.made])} if story.made else {}
    found["", _("Mold inserts")] = ", ".join(tool.code for one in story.made for tool in one.inserts)
    found["", _("Trim mask")] = ", ".join(one.tool.code for one in story.trimmed)
    for number, one in enumerate(story.made, 1):
        # By its place, so that another mold of the same making is compared with it.
        of = "" if len(story.made) == 1 else f"{number}"
        making = one.making
        found[of, _("Laid up")] = said.by(making.lay_up) if making.lay_up is not None else ""
        found[of, _("What became of it")] = outcome(making, Said(said.now, said.zone, story)).rstrip(".")
        own = one.surfaces[0]
        first = own.at_lay_up or own.at_pull
        found[of, _("Release")] = str(stood(first, one.tool.kind, said.zone)).rstrip(".") if first is not None else ""
        found[of, _("Coat")] = "; ".join(coats_said(own, said)).rstrip(".")
    return {key: words for key, words in found.items() if words}
