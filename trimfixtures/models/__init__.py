"""What is stored of trim masks, and the rules of one row. One aggregate a file."""

from trimfixtures.models.cutters import Cutter, CutterChange, CutterKind, CutterState
from trimfixtures.models.features import DrillBushing, Feature, FeatureKind, Finish, Kept, Method
from trimfixtures.models.masks import Mask, Stage

__all__ = [
    "Cutter",
    "CutterChange",
    "CutterKind",
    "CutterState",
    "DrillBushing",
    "Feature",
    "FeatureKind",
    "Finish",
    "Kept",
    "Mask",
    "Method",
    "Stage",
]
