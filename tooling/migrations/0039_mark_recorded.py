from django.db import migrations, models
from django.db.models import F
from django.utils import timezone


def as_it_was_said(apps, schema_editor):
    """When a mark was written down was not kept: taken to be when the part was looked at."""
    apps.get_model("tooling", "ContainmentMark").objects.update(recorded_at=F("at"))


class Migration(migrations.Migration):

    dependencies = [
        ('tooling', '0038_accepted_again'),
    ]

    operations = [
        migrations.AddField(
            model_name='containmentmark',
            name='recorded_at',
            field=models.DateTimeField(default=timezone.now, verbose_name='written down'),
            preserve_default=False,
        ),
        migrations.RunPython(as_it_was_said, migrations.RunPython.noop),
    ]
