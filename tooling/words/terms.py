"""The trade's words for what is stored as a code: kinds, how it came off, causes, faults, areas, reasons."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy as in_context

KINDS = {
    "plug": _("plug"),
    "mold": _("mold"),
    "insert": _("mold insert"),
    "trim_mask": _("trim mask"),
}
CAME_OFF = {
    "free": _("free"),
    "light": in_context("how it came off", "light"),
    "tight": _("tight"),
    "stuck": _("stuck"),
    "lost": _("lost"),
}
CAME_OFF_MEANS = {
    "free": _("by itself, or with a hand"),
    "light": _("a wedge or two"),
    "tight": _("hard wedging"),
    "stuck": _("surface or part marked"),
    "lost": _("the part is lost"),
}
# How a cut against a trim mask went, where it did not go well.
OUTCOMES = {
    "gouged": _("gouged"),
    "slipped": _("slipped"),
    "off_size": _("out of size"),
}
CAUSES = {
    "release": in_context("cause of a hard pull", "release"),
    "undercut": _("undercut"),
    "temperature": _("temperature"),
    "laminate": _("laminate"),
    "handling": _("handling"),
    "unknown": _("unknown"),
}
FAULTS = {
    "pre_release": _("pre-release"),
    "fish_eye": _("fish-eye"),
    "drag": _("drag"),
    "dull": _("dull"),
}
AREAS = {
    "whole": _("whole surface"),
    "flange": _("flange"),
    "spot": _("a spot"),
}
# What a surface was cleaned with.
CLEANED_WITH = {
    "water": _("water"),
    "soap": _("soap"),
    "solvent": _("solvent"),
    "stripper": _("stripper"),
    "compound": _("compound"),
}
# How the release was tried.
RELEASE_TESTS = {
    "tape": _("tape test"),
    "water": _("water test"),
}
# What is measured; a word that is not here is said as it was typed.
QUANTITIES = {
    "gloss": _("gloss"),
    "roughness": _("roughness"),
    "depth": _("depth"),
    "dimension": _("dimension"),
    "vacuum drop": _("vacuum drop"),
    "hardness": _("hardness"),
}
# How a surface was mended.
METHODS = {
    "filled": _("filled"),
    "re_gelled": _("ground and re-gelled"),
    "patched": _("patched"),
    "polished": _("sanded and polished"),
    "other": _("another way"),
}
# What is wrong with a tool at one spot.
DEFECTS = {
    "chip": _("chip"),
    "crack": _("crack"),
    "crazing": _("crazing"),
    "scratch": _("scratch"),
    "gouge": _("gouge"),
    "pit": _("pit"),
    "blister": _("blister"),
    "print_through": _("print-through"),
    "dull": _("dull spot"),
    "wear": _("worn spot"),
    "delamination": _("delamination"),
    "bent": _("bent"),
    "loose": _("loose"),
    "other": _("something else"),
}
# What is done to a tool that is in the making, in the order in which it mostly is.
WORKS = {
    "machining": _("machining"),
    "skin": _("skinning"),
    "filler": _("filler"),
    "primer": _("primer"),
    "sanding": _("sanding"),
    "gel_coat": _("gel coat"),
    "laminate": _("laminate"),
    "frame": _("frame"),
    "other": _("other work"),
}
COAT_REASONS = {
    "count": _("its pulls are done"),
    "tight": _("it is getting tight"),
    "idle": _("it was idle"),
    "came_off": _("it came off hard"),
    "other": _("another reason"),
}
# Where on a tool something is, and what of it a tool of each kind has.
SPOTS = {
    "face": _("face"),
    "return": _("return"),
    "flange": _("flange"),
    "bolt_hole": _("bolt hole"),
    "seam": _("seam"),
    "base": _("base"),
    "guiding_edge": _("guiding edge"),
    "datum_pin": _("datum pin"),
}
SPOTS_OF = {
    "plug": ("face", "flange", "seam", "base"),
    "mold": ("face", "return", "flange", "bolt_hole"),
    "insert": ("face", "return", "flange", "bolt_hole"),
    "trim_mask": ("guiding_edge", "datum_pin", "face", "bolt_hole"),
}
# Why a lay-up is started although something stands against it.
LAY_UP_REASONS = {
    "urgent": _("the part is urgent"),
    "looked": _("it was looked at, and it will do"),
    "trial": _("it is a trial part"),
}


def spots_of(kind: str) -> list[tuple[str, Any]]:
    """Where on a tool of this kind something may be, to be chosen from."""
    return [(spot, SPOTS[spot]) for spot in SPOTS_OF[kind]]


def term(table: Mapping[str, Any], code: str) -> str:
    """The word for a code; a code that an import brought and nobody knows is said as it is."""
    return str(table.get(code, code))
