from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tooling", "0024_shift")]

    operations = [
        migrations.AddIndex(
            model_name="entry",
            index=models.Index(fields=["recorded_by", "recorded_at"], name="entry_recorded_by_at"),
        ),
    ]
