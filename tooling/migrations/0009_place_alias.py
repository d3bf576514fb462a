import django.db.models.deletion
import django.db.models.functions.text
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("tooling", "0008_words_anew"),
    ]

    operations = [
        migrations.CreateModel(
            name="PlaceAlias",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("code", models.CharField(max_length=16, unique=True, verbose_name="code")),
                (
                    "place",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="aliases", to="tooling.place"
                    ),
                ),
            ],
            options={
                "verbose_name": "older code of a place",
                "verbose_name_plural": "older codes of places",
                "ordering": ["code"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("code", django.db.models.functions.text.Upper("code")),
                            models.Q(("code", ""), _negated=True),
                        ),
                        name="place_alias_code_upper",
                    )
                ],
            },
        ),
    ]
