"""What guides a cut is called a guide bushing. Nothing in the database changes."""

from django.db import migrations

from tooling.models.fields import NumberField


class Migration(migrations.Migration):
    dependencies = [("trimfixtures", "0001_trim_masks")]

    operations = [
        migrations.AlterModelOptions(
            name="cutter",
            options={
                "ordering": ["code"],
                "verbose_name": "cutter or guide bushing",
                "verbose_name_plural": "cutters and guide bushings",
            },
        ),
        migrations.AlterField(
            model_name="feature",
            name="bushing_mm",
            field=NumberField(
                blank=True, decimal_places=6, max_digits=15, null=True, verbose_name="guide bushing diameter"
            ),
        ),
    ]
