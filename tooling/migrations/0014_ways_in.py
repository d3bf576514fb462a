import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tooling", "0013_backups")]

    operations = [
        migrations.CreateModel(
            name="Pin",
            fields=[
                (
                    "person",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="pin",
                        serialize=False,
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("secret", models.CharField(max_length=128)),
                ("wrong", models.PositiveIntegerField(default=0)),
                ("wrong_at", models.DateTimeField(blank=True, null=True)),
            ],
            options={"verbose_name": "PIN", "verbose_name_plural": "PINs"},
        ),
        migrations.CreateModel(
            name="Invitation",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(max_length=64, unique=True)),
                ("made_at", models.DateTimeField(verbose_name="made at")),
                ("expires_at", models.DateTimeField(verbose_name="works until")),
                ("used_at", models.DateTimeField(blank=True, null=True, verbose_name="used at")),
                ("withdrawn_at", models.DateTimeField(blank=True, null=True, verbose_name="withdrawn at")),
                (
                    "made_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="invitations",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "invitation",
                "verbose_name_plural": "invitations",
                "ordering": ["-made_at", "-pk"],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("used_at", None), ("withdrawn_at", None)),
                        fields=("person",),
                        name="invitation_one_open",
                    )
                ],
            },
        ),
    ]
