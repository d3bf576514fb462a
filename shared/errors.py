"""What a deed says when it is not done."""


class Refused(Exception):
    """Nothing was written. The message says what to change; the field is that of the form or sheet, or ""."""

    def __init__(self, message: str, field: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.field = field


class TokenReused(Refused):
    """The same form was sent twice with different content."""


class AskFirst(Refused):
    """Nothing was written yet: a page asks, and the same words are sent again with the answer."""
