import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tooling", "0027_tag_prints")]

    operations = [
        migrations.AddField(
            model_name="shop",
            name="demo_since",
            field=models.DateTimeField(blank=True, editable=False, null=True, verbose_name="a demo since"),
        ),
        migrations.CreateModel(
            name="Tried",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("step", models.CharField(max_length=20)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "constraints": [models.UniqueConstraint(fields=("person", "step"), name="tried_once")],
            },
        ),
    ]
