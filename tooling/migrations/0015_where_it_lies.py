from django.db import migrations, models
from django.db.models import Case, F, Q, When

DECIDE = ("moved", "lent", "handed_back")


def lent(apps, schema_editor):
    """What was lent and not handed back, nor seen somewhere since: to whom, and from then on seen nowhere."""
    entries, summaries = apps.get_model("tooling", "Entry").objects, apps.get_model("tooling", "Summary").objects
    gone = entries.exclude(voids=None).values("voids"), entries.exclude(replaces=None).values("replaces")
    standing = entries.filter(kind__in=DECIDE, voids=None).exclude(pk__in=gone[0]).exclude(pk__in=gone[1])
    for tool in set(standing.filter(kind="lent").values_list("tool", flat=True)):
        looks = [one for one in standing.filter(tool=tool).order_by("at", "pk") if one.payload.get("seen") is not False]
        last = looks[-1]
        if last.kind == "lent":
            to = str(last.payload.get("person", ""))
            summaries.filter(tool=tool).update(lent=True, lent_to=to, seen_place=None, seen_at=last.at)


class AddWorkedOut(migrations.AddField):
    """SQLite adds no worked-out column to a table that has rows; Django remakes the table only for one without nulls."""

    def database_forwards(self, app_label, schema_editor, from_state, to_state):
        if schema_editor.connection.vendor != "sqlite":
            super().database_forwards(app_label, schema_editor, from_state, to_state)
            return
        field = to_state.apps.get_model(app_label, self.model_name)._meta.get_field(self.name)
        schema_editor._remake_table(from_state.apps.get_model(app_label, self.model_name), create_field=field)


class Migration(migrations.Migration):
    dependencies = [("tooling", "0014_ways_in")]

    operations = [
        migrations.AddField("summary", "lent", models.BooleanField(default=False)),
        migrations.AddField("summary", "lent_to", models.TextField(blank=True, default="")),
        AddWorkedOut(
            "summary",
            "lies",
            models.GeneratedField(
                expression=Case(
                    When(in_mold_of__isnull=True, seen_at__isnull=False, then=F("seen_place")),
                    When(in_mold_of__isnull=True, then=F("home")),
                    default=None,
                    output_field=models.BigIntegerField(),
                ),
                output_field=models.BigIntegerField(null=True),
                db_persist=True,
                null=True,
            ),
        ),
        # What a generated column is made of cannot be altered: it is laid anew.
        migrations.RemoveIndex("summary", "summary_away"),
        migrations.RemoveField("summary", "away"),
        migrations.AddField(
            "summary",
            "away",
            models.GeneratedField(
                expression=Q(
                    Q(seen_place__isnull=True) | ~Q(seen_place=F("home")),
                    seen_at__isnull=False, home__isnull=False, laid_up_at__isnull=True, in_mold_of__isnull=True,
                    retired=False,
                ),
                output_field=models.BooleanField(),
                db_persist=True,
            ),
        ),
        migrations.AddIndex("summary", models.Index(fields=["lies"], name="summary_lies")),
        migrations.AddIndex(
            "summary", models.Index(fields=["seen_at", "tool"], condition=Q(away=True), name="summary_away")
        ),
        migrations.RunPython(lent, migrations.RunPython.noop),
    ]  # fmt: skip
