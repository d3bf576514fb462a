from django.db import migrations, models
from django.utils import timezone


def since_now(apps, schema_editor):
    """Nobody knows since when a shop has them on: what was brought back before today asks for no acceptance."""
    apps.get_model("tooling", "Shop").objects.filter(formal_records=True, formal_since=None).update(
        formal_since=timezone.now()
    )


class Migration(migrations.Migration):

    dependencies = [
        ('tooling', '0037_readings_lately'),
    ]

    operations = [
        migrations.AddIndex(
            model_name='summary',
            index=models.Index(condition=models.Q(('accept_again', True)), fields=['tool'], name='summary_accept_again'),
        ),
        migrations.RunPython(since_now, migrations.RunPython.noop),
    ]
