import datetime

from django.db import migrations

EVER = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)


def _micros(at):
    return at and (at - EVER) // datetime.timedelta(microseconds=1)


def forget(apps, schema_editor):
    """A tool of which somebody only told how it stands was not worked with on the day that it was told."""
    told = apps.get_model("tooling", "Summary").objects.using(schema_editor.connection.alias).filter(
        state__phase="unknown"
    )
    keys = [
        tool
        for tool, state, at, coats in told.values_list("tool", "state", "last_at", "total_coats")
        if state.get("last_coat") == state.get("last_pull") == _micros(at) and not coats and state.get("part") is None
    ]
    spans = apps.get_model("tooling", "Span").objects.using(schema_editor.connection.alias)
    for start in range(0, len(keys), 500):
        spans.filter(tool__in=keys[start : start + 500], group__in=("ready", "wax")).update(group_at=EVER)


class Migration(migrations.Migration):
    dependencies = [("tooling", "0015_where_it_lies")]

    operations = [migrations.RunPython(forget, migrations.RunPython.noop)]
