"""The cautions that the program shows where the work is done: in short above the deed, in full on the same page.

The signal words are those of ANSI Z535.4: WARNING could kill or harm badly, CAUTION could harm, NOTICE could spoil.
"""

from dataclasses import dataclass, replace

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from tooling.words.family import coat_stuff

WARNING, CAUTION = _("WARNING"), _("CAUTION")


@dataclass(frozen=True, slots=True)
class Caution:
    """A signal word, what it is about in a line or two, and all of it.

    about, work: by its key and in a word, where it stands among others.
    """

    signal: str | Promise
    short: str | Promise
    text: str | Promise
    about: str = ""
    work: str | Promise = ""


SHEET = _("Follow the supplier’s data sheet and the local code.")
CAUTIONS = {
    "coats": Caution(
        WARNING,
        _("%(stuff)s and solvent burn, vapours harm: no flame, ventilation, gloves, eyes."),
        _(
            "%(stuff)s and solvent burn and their vapours harm. No flame, ventilation on, gloves, eyes covered. "
            "Solvent rags go in a closed can; catalysed resin and rags with it never do, they heat themselves: the "
            "shop’s own way for resin waste. A tool wet with solvent does not go in an oven."
        ),
    ),
    "film": Caution(
        WARNING,
        _("PVA liquid burns, its vapours harm: no flame, ventilation, gloves, eyes."),
        _(
            "PVA liquid burns and its vapours harm. No flame, ventilation on, gloves, eyes covered. Rags wet with it "
            "go in a closed can. A tool wet with it does not go in an oven."
        ),
    ),
    "lay_up": Caution(
        WARNING,
        _("Catalyst blinds: eye protection. Resin sensitises the skin: gloves. No flame, no spark."),
        _(
            "Peroxide catalyst blinds: eye protection, and never mixed directly with accelerator. Styrene burns, its "
            "vapour harms: no flame, ventilation. Resin and hardener sensitise the skin: gloves. Resin left in the pot "
            "and rags soaked with it heat themselves: never in the closed can, which is for solvent rags, but the "
            "shop’s own way for resin waste. Cutting dry glass and carbon cloth: respirator, and carbon’s dust also "
            "conducts. Bagging film gathers static: a spark lights vapours."
        ),
    ),
    "lift": Caution(
        WARNING,
        _("Tools are heavy and awkward: the shop’s own words for the lift, hands and feet clear."),
        _(
            "Tools are heavy and awkward, and loose pieces fall: lift them by the shop’s own words for the lift, hands "
            "out of the joint, feet clear, nobody under it. Where no words stand, ask the lead first. The tool may "
            "still be hot."
        ),
    ),
    "pull": Caution(
        WARNING,
        _("Parts pop, wedges slip: eyes and face. Bagging and release film spark: no solvent near."),
        _(
            "Compressed air and water pop parts, and wedges slip: eyes and face. Bagging and release film spark as "
            "they come off: no solvent about, its vapours catch fire. Edges of a laminate cut: gloves. The tool may "
            "still be hot."
        ),
    ),
    "off": Caution(
        WARNING,
        _("A tool comes free with a jump: slings slack, plug clamped, nobody under or beside it."),
        _(
            "A mold comes free of its plug with a jump, and swings: wedges free it, not the hoist. Slings slack until "
            "it is free, the plug clamped down, nobody under it or beside it, hands out of the gap. It is lifted by "
            "the shop’s own words for its lift once somebody knows what it weighs, with its frame; where nobody does, "
            "ask the lead first. The tool may still be hot."
        ),
    ),
    "strip": Caution(
        WARNING,
        _("Solvents burn, vapours harm: no flame, ventilation, gloves, eyes. Sanding: respirator."),
        _(
            "Solvents burn and their vapours harm: no flame, ventilation, gloves, eyes. Strippers burn the skin: cover "
            "it. Sanding dust of glass and carbon: respirator, extraction, eyes and skin covered, and carbon’s also "
            "conducts. Solvent rags in a closed can. A tool wet with solvent does not go in an oven."
        ),
    ),
    "repair": Caution(
        WARNING,
        _("Catalyst blinds; dust: eyes, respirator. Filler burns, sensitises: no flame, gloves."),
        _(
            "Peroxide catalyst blinds: eye protection, and never mixed directly with accelerator. Filler, gel coat and "
            "solvent burn, their vapours harm and they sensitise the skin: no flame, ventilation, gloves. Sprayed, "
            "their mist catches fire and is breathed in: no spark, the respirator that the data sheet names. Solvent "
            "rags go in a closed can; catalysed filler, gel coat and resin, and rags with them, never do: they heat "
            "themselves, the shop’s own way for resin waste. A tool wet with solvent does not go in an oven. Sanding "
            "dust of glass and carbon: respirator, extraction, eyes and skin covered, and carbon’s also conducts. What "
            "a filler stands is what its data sheet says, hardened as that sheet says."
        ),
    ),
    "sanding": Caution(
        WARNING,
        _("Dust of glass and carbon: respirator, extraction, eyes. Carbon’s also conducts."),
        _(
            "Sanding and polishing dust of glass and carbon: respirator, extraction, eyes and skin covered; carbon’s "
            "also conducts. A polishing wheel throws and grabs: no loose sleeves. Compounds may hold solvent: no "
            "flame, rags in a closed can."
        ),
    ),
    "look": Caution(
        WARNING,
        _("Chips and edges of laminate cut: gloves. A tool on its stand tips: nobody under it."),
        _(
            "Chips, cracks and edges of laminate cut, and bare glass goes into the skin: gloves, no bare finger along "
            "them. A tool on its stand tips and loose pieces fall: it is turned and lifted by the shop’s own words for "
            "its lift, nobody under it. Where no words stand, ask the lead first. It may still be hot."
        ),
    ),
    "clean": Caution(
        WARNING,
        _("Solvents and strippers burn, their vapours harm: no flame, ventilation, gloves, eyes."),
        _(
            "Solvents and strippers burn, and their vapours harm: no flame, no spark, ventilation, gloves, eyes. "
            "Solvent rags go in a closed can. A tool wet with solvent does not go in an oven. Dust of compound on "
            "glass and carbon: respirator, and carbon’s also conducts."
        ),
    ),
    "insert": Caution(
        CAUTION,
        _("Loose pieces pinch and fall: hands clear of the joint."),
        _(
            "A mold insert pinches where it seats and falls where it is loose: hands clear of the joint, the shop’s "
            "own words for its lift."
        ),
    ),
    "insert_out": Caution(
        WARNING,
        _("A stuck piece pops, wedges slip: eyes and face. It falls: hands clear."),
        _(
            "Compressed air and water pop a stuck mold insert, and wedges slip: eyes and face. Loose it falls, and it "
            "pinches in its joint: hands clear, the shop’s own words for its lift. The tool may still be hot."
        ),
    ),
}
WORK = {
    "coats": _("Coats"),
    "film": _("Film"),
    "lay_up": _("Lay-up"),
    "lift": _("Lifting"),
    "pull": _("Taking a part off"),
    "off": _("Taking a tool off its plug"),
    "strip": _("Stripping"),
    "repair": _("Repair"),
    "sanding": _("Sanding"),
    "look": _("Looking over"),
    "clean": _("Cleaning"),
    "insert": _("Putting in a mold insert"),
    "insert_out": _("Taking out a mold insert"),
}
EVERYWHERE = _(
    "Follow the supplier’s data sheet and the local code. Where a part is safety-critical the licensed person decides, "
    "not this program."
)


def caution(about: str, family: str = "") -> Caution:
    """The caution that belongs to a deed; coats are said with the word of the recipe's family."""
    return alone(among_others(about, family))


def alone(one: Caution) -> Caution:
    """One that stands by itself ends with what all of them say besides."""
    return replace(one, text=f"{one.text} {SHEET}")


def among_others(about: str, family: str = "") -> Caution:
    """The same where several stand together, and what all of them say besides is said once."""
    found, stuff = CAUTIONS[about], {"stuff": coat_stuff(family)}
    return Caution(found.signal, str(found.short) % stuff, str(found.text) % stuff, about, WORK[about])
