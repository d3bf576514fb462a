import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tooling", "0009_place_alias")]

    operations = [
        migrations.AlterField(
            model_name="tool",
            name="made_from",
            field=models.ForeignKey(
                blank=True,
                db_index=False,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="made",
                to="tooling.tool",
                verbose_name="made from",
            ),
        ),
        migrations.AddIndex(
            model_name="tool",
            index=models.Index(
                condition=models.Q(("made_from__isnull", False)), fields=["made_from"], name="tool_made_from"
            ),
        ),
    ]
