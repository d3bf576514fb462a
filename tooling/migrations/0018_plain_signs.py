from django.db import migrations


def forget(apps, schema_editor):
    """The words are made again after the migrations: with plain signs, and with what stands together in a name."""
    apps.get_model("tooling", "SearchText").objects.all().delete()


class Migration(migrations.Migration):
    dependencies = [("tooling", "0017_picture_recorded_by")]

    operations = [migrations.RunPython(forget, migrations.RunPython.noop)]
