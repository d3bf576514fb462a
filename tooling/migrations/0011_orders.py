import datetime

import django.db.models.functions.comparison
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("tooling", "0010_tool_origin"),
    ]

    operations = [
        migrations.AddField(
            model_name="summary",
            name="used_at",
            field=models.GeneratedField(
                db_persist=True,
                expression=django.db.models.functions.comparison.Coalesce(
                    "last_used_at", models.Value(datetime.datetime(1970, 1, 1, 0, 0, tzinfo=datetime.UTC))
                ),
                output_field=models.DateTimeField(),
            ),
        ),
        migrations.AddIndex(
            model_name="span",
            index=models.Index(fields=["-pulls_left", "tool", "from_at", "until_at"], name="span_left"),
        ),
        migrations.AddIndex(
            model_name="summary",
            index=models.Index(fields=["-used_at", "tool"], name="summary_used"),
        ),
    ]
