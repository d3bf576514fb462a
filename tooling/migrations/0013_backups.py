from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tooling", "0012_job")]

    operations = [
        migrations.AddField(
            model_name="shop",
            name="backup_days",
            field=models.PositiveIntegerField(default=7, verbose_name="days between backups"),
        ),
        migrations.AddField(
            model_name="shop",
            name="backed_up_at",
            field=models.DateTimeField(blank=True, editable=False, null=True, verbose_name="last backup"),
        ),
    ]
