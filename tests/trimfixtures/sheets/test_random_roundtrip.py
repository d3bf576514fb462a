"""Made-up trim masks out, into an empty shop and out again: the same sheets."""

from decimal import Decimal
from random import Random

import pytest

from tests.tooling.sheets.shops import make_empty
from tooling.services.sheets.exporting import export_shop
from tooling.services.sheets.importing import import_shop
from tooling.services.tools import add_tool
from trimfixtures.models import Cutter, Feature, FeatureKind, Finish, Kept, Mask, Method
from trimfixtures.services.feature_rules import wrong_with

pytestmark = pytest.mark.django_db
NAMES = ("", "", "rim", "Rim", "=1+1", "drain; aft", "two\nlines", "ø 6,5")


def number(rng, most):
    return Decimal(rng.randint(1, most * 1000)).scaleb(-3) if rng.random() < 0.7 else None


def library(rng):
    """A few cutters and bushings, some of them without a size."""
    return [
        Cutter.objects.create(code=f"{kind[0].upper()}-{place}", kind=kind, nominal_mm=number(rng, most), note="'x")
        for kind, most in (("cutter", 12), ("bushing", 40))
        for place in range(3)
    ]


def cut(rng, mask, cutters):
    """A cut that the rules take, or None."""
    sizes = {f"{name}_mm": number(rng, most) for name, most in (
        ("cutter", 12), ("bushing", 40), ("length", 500), ("width", 300), ("corner", 40), ("opening", 300),
        ("tolerance", 1), ("x", 900), ("y", 300),
    )}  # fmt: skip
    said = {
        "kind": rng.choice(FeatureKind.values),
        "method": rng.choice(Method.values),
        "kept": rng.choice(Kept.values),
    }
    said |= {"cutter": rng.choice([None, *cutters[:3]]), "bushing": rng.choice([None, *cutters[3:]])}
    said |= {"finish": rng.choice(["", *Finish.values]), "name": rng.choice(NAMES).replace("\n", " "), **sizes}
    said |= {"note": rng.choice(NAMES)}
    return None if wrong_with(said, mask=mask) else Feature(mask=mask, **said)


@pytest.mark.parametrize("seed", range(2))
def test_made_up_trim_masks_come_back(seed, tmp_path):
    rng = Random(seed)
    cutters, cuts = library(rng), []
    for place in range(3):
        tool = add_tool(code=f"T-{place}", name="Trim", kind="trim_mask")
        outline = rng.choice(["", "0 0; 900 0; 900 300; 0 300", "0 0;900 0; 850.5 300\n; 0 300.25;0 0"])
        mask = Mask.objects.create(tool=tool, outline=outline, datum=rng.choice(NAMES[:4]))
        cuts += [one for _try in range(30) if (one := cut(rng, mask, cutters)) is not None]
    for number, one in enumerate(rng.sample(cuts, len(cuts) // 2), 1):
        one.order = number
    assert len(cuts) > 9
    Feature.objects.bulk_create(rng.sample(cuts, len(cuts)))
    export_shop(tmp_path / "first")
    make_empty()
    assert import_shop(tmp_path / "first").as_json()["errors"] == []
    assert Feature.objects.count() == len(cuts)
    export_shop(tmp_path / "second")
    for table in (tmp_path / "first").iterdir():
        assert (tmp_path / "second" / table.name).read_bytes() == table.read_bytes()
