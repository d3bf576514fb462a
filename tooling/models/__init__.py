"""What is stored, and the rules of one row. One aggregate a file."""

from tooling.models import search_index, triggers  # their checks and their work after migrate register themselves
from tooling.models.changes import PartChange, ToolChange
from tooling.models.checklists import Checklist, ChecklistItem, Purpose
from tooling.models.codes import check_code, propose_code, tidy_code
from tooling.models.containment import ContainmentMark, Verdict
from tooling.models.defects import Defect, DefectMark
from tooling.models.entries import Entry
from tooling.models.flags import Flag
from tooling.models.jobs import Job, JobState
from tooling.models.lead_notes import LeadNote
from tooling.models.making_steps import BY_ENTRY, MakingStep
from tooling.models.moving_in import ColumnMatch, MovingIn, WordMatch
from tooling.models.parts import Part, PartRevision
from tooling.models.people import Person, Role, Units
from tooling.models.pictures import Picture
from tooling.models.place_counts import CountMark, Found, PlaceCount
from tooling.models.places import Place, PlaceAlias, PlaceKind
from tooling.models.plugs import MillingPass, Pass, PlugRecord
from tooling.models.reading_limits import ReadingLimit, Worse
from tooling.models.recipes import NO_SOURCE, RecipeVersion, ReleaseSystem
from tooling.models.rights import May, Right
from tooling.models.seals import Seal, SealLine
from tooling.models.search import SearchText
from tooling.models.serials import SerialNumber
from tooling.models.shop import Shop
from tooling.models.spans import Span
from tooling.models.summaries import Summary
from tooling.models.tag_codes import TagCode
from tooling.models.tag_prints import TagPrint, TagRun, TagWanted
from tooling.models.temperatures import Temperature
from tooling.models.tins import Stuff, Tin
from tooling.models.tool_sets import SetLine, SetRole
from tooling.models.tools import Hand, Kind, Tool, ToolAlias, check_code_free
from tooling.models.tried import STRIP, Tried
from tooling.models.wanted import Wanted
from tooling.models.ways_in import Invitation, Pin, Shift
from tooling.models.wipes import Wipe

__all__ = [
    "BY_ENTRY",
    "NO_SOURCE",
    "STRIP",
    "Checklist",
    "ChecklistItem",
    "ColumnMatch",
    "ContainmentMark",
    "CountMark",
    "Defect",
    "DefectMark",
    "Entry",
    "Flag",
    "Found",
    "Hand",
    "Invitation",
    "Job",
    "JobState",
    "Kind",
    "LeadNote",
    "MakingStep",
    "May",
    "MillingPass",
    "MovingIn",
    "Part",
    "PartChange",
    "PartRevision",
    "Pass",
    "Person",
    "Picture",
    "Pin",
    "Place",
    "PlaceAlias",
    "PlaceCount",
    "PlaceKind",
    "PlugRecord",
    "Purpose",
    "ReadingLimit",
    "RecipeVersion",
    "ReleaseSystem",
    "Right",
    "Role",
    "Seal",
    "SealLine",
    "SearchText",
    "SerialNumber",
    "SetLine",
    "SetRole",
    "Shift",
    "Shop",
    "Span",
    "Stuff",
    "Summary",
    "TagCode",
    "TagPrint",
    "TagRun",
    "TagWanted",
    "Temperature",
    "Tin",
    "Tool",
    "ToolAlias",
    "ToolChange",
    "Tried",
    "Units",
    "Verdict",
    "Wanted",
    "Wipe",
    "WordMatch",
    "Worse",
    "check_code",
    "check_code_free",
    "propose_code",
    "search_index",
    "tidy_code",
    "triggers",
]
