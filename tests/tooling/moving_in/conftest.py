"""Each test finds no upload of another one."""

import shutil

import pytest
from django.conf import settings


@pytest.fixture(autouse=True)
def nothing_uploaded():
    shutil.rmtree(settings.DATA_DIR / "moving", ignore_errors=True)
