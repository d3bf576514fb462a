import django.db.models.deletion
from django.db import migrations, models

from tooling.models.serials import bare_of, key_of, split

PIECE = 2000


def fill(apps, schema_editor):
    """What was written before has its serial numbers too."""
    entry, row = apps.get_model("tooling", "Entry"), apps.get_model("tooling", "SerialNumber")
    last = 0
    while True:
        piece = entry.objects.filter(pk__gt=last, serial__gt="").order_by("pk")
        found = list(piece.values_list("pk", "serial", "part")[:PIECE])
        if not found:
            return
        row.objects.bulk_create(
            row(entry_id=pk, key=key, part=key_of(part), bare=bare)
            for pk, serial, part in found
            for key, bare in {key_of(one): bare_of(one) for one in split(serial)}.items()
        )
        last = found[-1][0]


class Migration(migrations.Migration):
    dependencies = [("tooling", "0030_wanted")]

    operations = [
        migrations.CreateModel(
            name="SerialNumber",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=80, verbose_name="serial number")),
                ("part", models.CharField(blank=True, default="", max_length=80, verbose_name="part")),
                ("bare", models.CharField(blank=True, default="", max_length=80)),
                (
                    "entry",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="serial_numbers",
                        to="tooling.entry",
                    ),
                ),
            ],
            options={
                "verbose_name": "serial number",
                "verbose_name_plural": "serial numbers",
                "indexes": [
                    models.Index(fields=["key", "part", "entry"], name="serial_key_part"),
                    models.Index(fields=["bare", "key"], name="serial_bare"),
                ],
                "constraints": [models.UniqueConstraint(fields=("entry", "key"), name="serial_once_an_entry")],
            },
        ),
        migrations.RunPython(fill, migrations.RunPython.noop),
    ]
