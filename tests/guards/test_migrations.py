from io import StringIO

import pytest
from django.core.management import call_command


@pytest.mark.django_db
def test_no_migration_is_missing():
    said = StringIO()
    try:
        call_command("makemigrations", check=True, dry_run=True, stdout=said, stderr=said)
    except SystemExit:
        pytest.fail(said.getvalue())
