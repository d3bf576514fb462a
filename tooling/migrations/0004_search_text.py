import django.db.models.deletion
from django.db import migrations, models

from tooling.models import search_index


def lay(apps, schema_editor):
    search_index.lay(schema_editor.connection)


def lift(apps, schema_editor):
    search_index.lift(schema_editor.connection)


class Migration(migrations.Migration):
    dependencies = [("tooling", "0003_units_and_changes")]

    operations = [
        migrations.CreateModel(
            name="SearchText",
            fields=[
                (
                    "tool",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="search_text",
                        serialize=False,
                        to="tooling.tool",
                    ),
                ),
                ("text", models.TextField(blank=True, default="")),
                ("codes", models.TextField(blank=True, default="")),
            ],
        ),
        migrations.AddIndex(
            model_name="tool",
            index=models.Index(fields=["name", "code"], name="tool_name_code"),
        ),
        migrations.AddIndex(
            model_name="tool",
            index=models.Index(condition=models.Q(("owner", ""), _negated=True), fields=["owner"], name="tool_owner"),
        ),
        migrations.RunPython(lay, lift),
    ]
