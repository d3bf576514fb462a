"""The settings that mypy looks at. Nothing is stored; its cache is a folder that is there and ignored."""

import os
from pathlib import Path

os.environ["DATA_DIR"] = str(Path(__file__).resolve().parent.parent / ".mypy_cache")
os.environ["SECRET_KEY"] = "only-for-types"

from shared.settings import *  # noqa: F403
