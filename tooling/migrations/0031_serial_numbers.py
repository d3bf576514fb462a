import re

import django.db.models.deletion
from django.db import migrations, models

PIECE = 2000


# As the numbers were read when this was written: what the program makes of them later is not this table's.
def split(text):
    pieces = re.split(r"[,;\n]+", text.replace("\0", ""))
    return [one for one in (" ".join(one.split()) for one in pieces) if one]


def whole_key(text):
    return " ".join(text.replace("\0", "").split()).upper()


def key_of(text):
    return whole_key(text)[:80]


def bare_of(text):
    return re.sub(r"[\W_]+", "", whole_key(text)).replace("O", "0").lstrip("0")[:80]


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
