"""For every reason of a trim mask what brings it about and what mends it, as in `tests/tooling/selectors/mends.py`."""

from datetime import date
from decimal import Decimal
from functools import partial

from shared.clock import now
from tests.tooling.selectors.mending import mends
from tests.tooling.views.deeds.conftest import happened
from trimfixtures.models import Cutter, Feature, Mask
from trimfixtures.services import deeds
from trimfixtures.services.cutters import change_cutter

check = partial(deeds.log_check, by=None, recorded_by=None)
used = partial(deeds.log_use, by=None, recorded_by=None)


@mends("check_failed")
def check_failed(s):
    check(s.mask, passed=False)
    yield
    check(s.mask, passed=True)


@mends("check_wanted")
def check_wanted(s):
    check(s.mask, passed=False)
    happened.inspect(s.mask, passed=True)
    yield
    check(s.mask, passed=True)


@mends("calibration_expired")
def calibration_expired(s):
    check(s.mask, passed=True, instrument="Caliper", calibrated_until=date(2020, 1, 1))
    yield
    check(s.mask, passed=True, instrument="Caliper 2")


@mends("calibration_unsaid")
def calibration_unsaid(s):
    check(s.mask, passed=True, instrument="Caliper", calibrated_until=date(2020, 1, 1))
    check(s.mask, passed=True, limit_mm="0.5", points="bow: 0.1")
    yield
    check(
        s.mask, passed=True, limit_mm="0.5", points="bow: 0.1", instrument="Caliper", calibrated_until=date(2999, 1, 1)
    )


def cut(s, **columns):
    """A cut of the trim mask with a cutter and a guide bushing of the library."""
    mask, _made = Mask.objects.get_or_create(tool=s.mask)
    cutter = Cutter.objects.create(code="R6", kind="cutter", nominal_mm=6)
    bushing = Cutter.objects.create(code="GB-17", kind="bushing", nominal_mm=17)
    about = {"kind": "edge", "method": "guide_bushing", "name": "Edge", "tolerance_mm": "0.25"}
    Feature.objects.create(mask=mask, cutter=cutter, bushing=bushing, **{**about, **columns})
    return cutter, bushing


@mends("cutter_gone", typed=True)
def cutter_gone(s):
    cutter, _bushing = cut(s)
    change_cutter(cutter, by=s.lead, at=now(), state="gone")
    yield
    change_cutter(cutter, by=s.lead, at=now(), state="here")


@mends("bushing_gone", typed=True)
def bushing_gone(s):
    _cutter, bushing = cut(s)
    change_cutter(bushing, by=s.lead, at=now(), state="gone")
    yield
    change_cutter(bushing, by=s.lead, at=now(), state="here")


@mends("cutter_worn", typed=True)
def cutter_worn(s):
    cutter, _bushing = cut(s)
    change_cutter(cutter, by=s.lead, at=now(), state="worn")
    yield
    change_cutter(cutter, by=s.lead, at=now(), state="here")


@mends("not_described", typed=True)
def not_described(s):
    Mask.objects.all().delete()
    yield
    cut(s)


@mends("fit_off", typed=True)
def fit_off(s):
    _cutter, bushing = cut(s)
    change_cutter(bushing, by=s.lead, at=now(), measured_mm=Decimal("16.4"))
    yield
    change_cutter(bushing, by=s.lead, at=now(), measured_mm=Decimal("16.9"))
