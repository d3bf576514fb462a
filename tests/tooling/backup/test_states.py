"""Every table of the program is in a backup, or is named as one that stays behind."""

import pytest
from django.apps import apps
from django.db.migrations.loader import MigrationLoader

from shared.errors import Refused
from tooling.models.pictures import DIGEST
from tooling.services.backup.states import LEFT_OUT, PICTURES, fields_of, label_of, own_apps, present, recorded
from tooling.services.backup.values import reader, writer

LIVE = {
    model._meta.label_lower: model
    for model in apps.get_models(include_auto_created=True)
    if model._meta.app_label in own_apps()
}


@pytest.mark.django_db
def test_every_table_of_the_program_is_kept_with_all_its_columns():
    kept = {label_of(model): {field.attname for field in fields_of(model)} for model in present().models}
    wanted = {
        label: {field.attname for field in model._meta.concrete_fields if not field.generated}
        for label, model in LIVE.items()
    }
    assert kept == {label: columns for label, columns in wanted.items() if label not in LEFT_OUT}
    assert set(LIVE) >= LEFT_OUT


def test_the_apps_are_those_of_the_program():
    assert own_apps() == ["shared", "tooling", "trimfixtures"]


@pytest.mark.parametrize("label", LIVE)
def test_every_column_can_be_written_and_read(label):
    for field in LIVE[label]._meta.concrete_fields:
        assert callable(writer(field))
        assert callable(reader(field))


@pytest.mark.parametrize("label", sorted(set(LIVE) - LEFT_OUT))
def test_what_is_kept_refers_to_nothing_that_stays_behind(label):
    to = {field.related_model._meta.label_lower for field in LIVE[label]._meta.concrete_fields if field.is_relation}
    assert not to & LEFT_OUT


def test_every_column_that_holds_a_picture_is_known():
    """A column is taken for one by its width: nothing else is named by a SHA-256 that has a file."""
    wide = {field.attname for field in LIVE["tooling.picture"]._meta.concrete_fields if field.max_length == DIGEST}
    assert set(PICTURES["tooling.picture"]) == wide


@pytest.mark.django_db
def test_an_older_state_has_the_tables_of_its_time():
    names = sorted(name for app, name in MigrationLoader(None).graph.nodes if app == "tooling")
    old = recorded({"tooling": names[:1]})
    assert old.named("tooling.entry") is not None
    assert old.named("tooling.picture") is None
    assert "backup_days" not in {field.attname for field in fields_of(old.named("tooling.shop"))}


def test_a_migration_that_nobody_knows_is_of_a_newer_program():
    with pytest.raises(Refused, match=r"newer version of the program: its shop went through tooling\.9999_wings"):
        recorded({"tooling": ["0001_initial", "9999_wings"]})
