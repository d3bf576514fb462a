from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tooling", "0005_picture")]

    operations = [
        migrations.AddIndex(
            model_name="entry",
            index=models.Index(
                condition=models.Q(("serial__gt", "")), fields=["part", "serial"], name="entry_part_serial"
            ),
        ),
    ]
