"""What gunicorn loads."""

import os
import sys

from django.core.wsgi import get_wsgi_application

from shared import environment, holding, settings
from shared.errors import Refused

os.environ.setdefault("DJANGO_SETTINGS_MODULE", settings.__name__)
if environment.problems:
    # A server started by hand runs no checks of its own, and must not serve with half of its settings ignored.
    sys.exit("\n".join(f"{problem.id}: {problem.message} {problem.hint}" for problem in environment.problems))
application = get_wsgi_application()
try:
    holding.hold()
except Refused as restoring:
    sys.exit(restoring.message)
