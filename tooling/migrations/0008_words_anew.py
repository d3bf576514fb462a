from django.db import migrations


def forget(apps, schema_editor):
    """The words are made again after the migrations, with lots and with the parts of mold inserts."""
    apps.get_model("tooling", "SearchText").objects.all().delete()


class Migration(migrations.Migration):
    dependencies = [("tooling", "0007_board_groups")]

    operations = [migrations.RunPython(forget, migrations.RunPython.noop)]
