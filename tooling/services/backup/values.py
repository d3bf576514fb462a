"""A stored value as plain JSON and back, the same on both databases: decimals as text, moments as microseconds."""

import base64
import datetime
import json
from collections.abc import Callable
from decimal import Decimal
from typing import Any
from uuid import UUID

from tooling.calc.state import micros

_EPOCH = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)
_MICROSECOND = datetime.timedelta(microseconds=1)


def _moment(told: int) -> datetime.datetime:
    return _EPOCH + told * _MICROSECOND


def _same(value: Any) -> Any:
    return value


def _number(value: Decimal) -> str:
    return format(value, "f")


def _bytes(value: Any) -> str:
    return base64.b64encode(value).decode("ascii")


_WHOLE = (
    "AutoField", "BigAutoField", "IntegerField", "BigIntegerField", "SmallIntegerField", "PositiveIntegerField",
    "PositiveSmallIntegerField", "PositiveBigIntegerField",
)  # fmt: skip
_TEXTS = ("CharField", "TextField", "SlugField", "EmailField", "URLField")
# Kind of field: what JSON has of it, how to write it, how to read it
_PLAIN: dict[str, tuple[type, Callable[[Any], Any], Callable[[Any], Any]]] = {
    "DecimalField": (str, _number, Decimal),
    "DateTimeField": (int, micros, _moment),
    "DateField": (str, datetime.date.isoformat, datetime.date.fromisoformat),
    "UUIDField": (str, str, UUID),
    "BinaryField": (str, _bytes, base64.b64decode),
    "BooleanField": (bool, _same, _same),
    **dict.fromkeys(_WHOLE, (int, _same, _same)),
    **dict.fromkeys(_TEXTS, (str, _same, _same)),
}

line_of = json.JSONEncoder(sort_keys=True, separators=(",", ":"), allow_nan=False).encode


def writer(field: Any) -> Callable[[Any], Any]:
    """What makes plain JSON of a value of this field. Raises TypeError for a kind of field that is not known."""
    kind = _kind(field)
    if kind == "JSONField":
        return _same
    write = _PLAIN[kind][1]
    return lambda value: None if value is None else write(value)


def reader(field: Any) -> Callable[[Any], Any]:
    """What makes a value of this field of plain JSON; it raises ValueError for what cannot be one."""
    kind = _kind(field)
    if kind == "JSONField":
        return _same
    plain, _write, read = _PLAIN[kind]
    may_be_absent = field.null

    def value(told: Any) -> Any:
        if told is None and may_be_absent:
            return None
        if type(told) is not plain:
            raise ValueError(field.name)
        return read(told)

    return value


def _kind(field: Any) -> str:
    while field.is_relation:
        field = field.target_field
    kind = str(field.get_internal_type())
    if kind != "JSONField" and kind not in _PLAIN:
        raise TypeError(f"A backup knows no {kind}.")
    return kind
