"""The settings under which the tests run: the program's own, in a folder of their own."""

import atexit
import os
import shutil
import tempfile

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
STORAGES = {**STORAGES, "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}  # noqa: F405
