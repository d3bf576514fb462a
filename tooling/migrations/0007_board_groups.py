import datetime

from django.db import migrations, models
from django.db.models import F, OuterRef, Q, Subquery, Value
from django.db.models.functions import Coalesce

EVER = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)
BY_HAND = Q(tool__kind__in=("plug", "mold"))
INSIDE = Q(tool__kind="insert", tool__summary__in_mold_of__isnull=False)
GROUPS = (
    ("in_molds", ("part_in_mold",), BY_HAND, "ready_at"),
    ("ready", ("ready", "last_pull"), BY_HAND, "last_at"),
    ("soon", ("curing", "needs_film", "film_drying"), BY_HAND, "ready_at"),
    (
        "wax",
        ("needs_strip", "not_prepared", "preparing", "needs_touch_up"),
        ~INSIDE & ~Q(tool__kind="trim_mask"),
        "last_at",
    ),
    ("held", ("held",), ~INSIDE, "held_since"),
)


def group(apps, schema_editor):
    """Puts the spans that lie there into their groups."""
    spans = apps.get_model("tooling", "Span").objects
    summaries = apps.get_model("tooling", "Summary").objects.filter(tool=OuterRef("tool"))
    for name, states, of_tool, goes_by in GROUPS:
        by = F(goes_by) if goes_by == "ready_at" else Subquery(summaries.values(goes_by)[:1])
        found = spans.filter(of_tool, status__in=states, tool__summary__making=False)
        spans.filter(pk__in=found.values("pk")).update(group=name, group_at=Coalesce(by, Value(EVER)))


class Migration(migrations.Migration):
    dependencies = [("tooling", "0006_serials")]

    operations = [
        migrations.AddField(
            model_name="span",
            name="group",
            field=models.CharField(blank=True, default="", max_length=8),
        ),
        migrations.AddField(
            model_name="span",
            name="group_at",
            field=models.DateTimeField(default=EVER),
        ),
        migrations.RunPython(group, migrations.RunPython.noop),
        migrations.AddIndex(
            model_name="span",
            index=models.Index(fields=["group", "group_at", "from_at", "until_at", "tool"], name="span_group"),
        ),
        migrations.AddField(
            model_name="summary",
            name="away",
            field=models.GeneratedField(
                expression=Q(
                    Q(("seen_place", F("home")), _negated=True),
                    ("home__isnull", False),
                    ("in_mold_of__isnull", True),
                    ("laid_up_at__isnull", True),
                    ("retired", False),
                    ("seen_place__isnull", False),
                ),
                output_field=models.BooleanField(),
                db_persist=True,
            ),
        ),
        migrations.AddIndex(
            model_name="summary",
            index=models.Index(fields=["seen_at", "tool"], condition=Q(away=True), name="summary_away"),
        ),
    ]
