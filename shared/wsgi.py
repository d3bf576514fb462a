"""What gunicorn loads."""

import os
import sys

from django.core.wsgi import get_wsgi_application

from shared.environment import problems

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")
application = get_wsgi_application()
if problems:
    # A server started by hand runs no checks of its own, and must not serve with half of its settings ignored.
    sys.exit("\n".join(f"{problem.id}: {problem.message} {problem.hint}" for problem in problems))
