"""Which tables a shop has: those of the program's own apps, as they are after the migrations that were applied."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.apps import apps
from django.conf import settings
from django.db import connection, models
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.migrations.loader import MigrationLoader
from django.utils.translation import gettext as _

from shared.errors import Refused

Model = type[models.Model]
Key = tuple[str, str]
# Work in hand, not the shop: its files are not in a backup, and after a restore nobody waits for it.
LEFT_OUT = frozenset({"tooling.job", "tooling.movingin"})
# Columns that name stored files of pictures by their SHA-256
PICTURES = {"tooling.picture": ("large", "middle", "small")}


@dataclass(frozen=True)
class State:
    """The tables of a shop after some migrations, in a fixed order."""

    recorded: dict[str, list[str]]
    models: tuple[Model, ...]

    def named(self, label: str) -> Model | None:
        """The table of `app.model`, if there was one."""
        return next((model for model in self.models if label_of(model) == label), None)


def own_apps() -> list[str]:
    """The labels of the apps that belong to the program; others keep sessions and counters, which stay behind."""
    root = Path(settings.BASE_DIR)
    return sorted(one.label for one in apps.get_app_configs() if Path(one.path).parent == root)


def label_of(model: Model) -> str:
    """`app.model`, as a backup names a table."""
    return str(model._meta.label_lower)


def fields_of(model: Model) -> list[Any]:
    """What is stored of a row, in order. What the database works out of it cannot be put in, and is left out."""
    return [field for field in model._meta.concrete_fields if not field.generated]


def present(here: BaseDatabaseWrapper | None = None) -> State:
    """The tables of a database as it is; those of the shop by default."""
    loader = MigrationLoader(here or connection)
    return _state(loader, [key for key in loader.applied_migrations if key[0] in own_apps()], _newer_database)


def recorded(names: dict[str, list[str]]) -> State:
    """The tables as they were where these migrations were applied, app by app."""
    loader = MigrationLoader(None)
    return _state(loader, [(app, name) for app, listed in names.items() for name in listed], _newer_backup)


def _state(loader: MigrationLoader, keys: list[Key], refusal: Any) -> State:
    unknown = sorted(f"{app}.{name}" for app, name in set(keys) - set(loader.graph.nodes))
    if unknown:
        raise refusal(unknown[0])
    if not keys:
        return State({}, ())
    state = loader.graph.make_state(nodes=sorted(keys), at_end=True, real_apps=loader.unmigrated_apps)
    own = own_apps()
    kept = [
        model
        for model in state.apps.get_models(include_auto_created=True)
        if model._meta.app_label in own and model._meta.managed and label_of(model) not in LEFT_OUT
    ]
    names = {app: sorted(name for label, name in keys if label == app) for app in sorted({app for app, _name in keys})}
    return State(names, tuple(sorted(kept, key=label_of)))


def _newer_database(name: str) -> Refused:
    message = _("This database was kept by a newer version of the program: it went through %(name)s. Use that version.")
    return Refused(message % {"name": name})


def _newer_backup(name: str) -> Refused:
    message = _(
        "This backup was made by a newer version of the program: its shop went through %(name)s, which this version "
        "does not know. Update the program, then restore it."
    )
    return Refused(message % {"name": name})
