"""The settings under which the tests run: the program's own, in a folder of their own."""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

_folder = tempfile.mkdtemp(prefix="shop-tests-")
atexit.register(shutil.rmtree, _folder, ignore_errors=True)
os.environ["DATA_DIR"] = _folder
os.environ["SECRET_KEY"] = "only-for-tests-" + "0123456789" * 5
for _name in ("ALLOWED_HOSTS", "DEBUG", "MEDIA_STORAGE", "SITE_URL"):
    os.environ.pop(_name, None)
os.environ["TIME_ZONE"] = "UTC"

from shared.settings import *  # noqa: E402, F403

# Signing in a hundred times must not cost a hundred slow hashes.
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
# Static files are served from their sources: nothing has to be collected first.
STATIC_ROOT = Path(_folder, "static")
STATIC_ROOT.mkdir()
STORAGES = {**STORAGES, "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}  # noqa: F405
# A file, not memory: the server of a browser test has a connection of its own, as it has in a shop.
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):  # noqa: F405
    _options = DATABASES["default"]["OPTIONS"]  # noqa: F405
    # What a power cut would do is not tested here, and waiting for the disk is slow.
    _options["init_command"] = _options["init_command"].replace("synchronous=FULL", "synchronous=OFF")
    DATABASES["default"]["TEST"] = {"NAME": os.path.join(_folder, "test.sqlite3")}  # noqa: F405
