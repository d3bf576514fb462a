import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tooling", "0011_orders")]

    operations = [
        migrations.CreateModel(
            name="Job",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("kind", models.CharField(max_length=40, verbose_name="kind")),
                ("given", models.JSONField(blank=True, default=dict, verbose_name="what it was given")),
                ("asked_at", models.DateTimeField(verbose_name="asked for at")),
                ("started_at", models.DateTimeField(blank=True, null=True, verbose_name="started at")),
                ("ended_at", models.DateTimeField(blank=True, null=True, verbose_name="ended at")),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("queued", "waiting for its turn"),
                            ("running", "at work"),
                            ("done", "done"),
                            ("failed", "failed"),
                            ("cancelled", "cancelled"),
                            ("interrupted", "interrupted"),
                        ],
                        default="queued",
                        max_length=12,
                        verbose_name="state",
                    ),
                ),
                ("words", models.TextField(blank=True, default="", verbose_name="how it ended")),
                ("file", models.CharField(blank=True, default="", max_length=200, verbose_name="file that came of it")),
                ("told", models.JSONField(blank=True, default=dict, verbose_name="how far it is")),
                ("cancel_asked", models.BooleanField(default=False, verbose_name="somebody wants it cancelled")),
                (
                    "asked_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                        verbose_name="asked for by",
                    ),
                ),
            ],
            options={
                "verbose_name": "job",
                "verbose_name_plural": "jobs",
                "ordering": ["-pk"],
                "indexes": [models.Index(fields=["state"], name="job_state")],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("state__in", ["queued", "running", "done", "failed", "cancelled", "interrupted"])
                        ),
                        name="job_state_known",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="ColumnMatch",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("their_sheet", models.CharField(max_length=200)),
                ("their_column", models.CharField(blank=True, default="", max_length=200)),
                ("sheet", models.CharField(blank=True, default="", max_length=40)),
                ("column", models.CharField(blank=True, default="", max_length=40)),
                ("kind", models.CharField(blank=True, default="", max_length=10)),
            ],
            options={
                "verbose_name": "matched column",
                "verbose_name_plural": "matched columns",
                "constraints": [
                    models.UniqueConstraint(fields=("their_sheet", "their_column"), name="column_match_once")
                ],
            },
        ),
        migrations.CreateModel(
            name="MovingIn",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=200, verbose_name="file")),
                ("added_at", models.DateTimeField(verbose_name="uploaded at")),
                ("given", models.JSONField(blank=True, default=dict, verbose_name="what was said of it")),
                ("report", models.JSONField(blank=True, null=True, verbose_name="what the last try found")),
                ("tried_at", models.DateTimeField(blank=True, null=True, verbose_name="tried at")),
                ("brought_in_at", models.DateTimeField(blank=True, null=True, verbose_name="brought in at")),
                (
                    "added_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                        verbose_name="uploaded by",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="tooling.job",
                    ),
                ),
            ],
            options={
                "verbose_name": "upload of sheets",
                "verbose_name_plural": "uploads of sheets",
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="WordMatch",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("sheet", models.CharField(max_length=40)),
                ("column", models.CharField(max_length=40)),
                ("theirs", models.CharField(max_length=200)),
                ("ours", models.CharField(max_length=40)),
            ],
            options={
                "verbose_name": "matched word",
                "verbose_name_plural": "matched words",
                "constraints": [models.UniqueConstraint(fields=("sheet", "column", "theirs"), name="word_match_once")],
            },
        ),
    ]
