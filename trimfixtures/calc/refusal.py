"""How the numbers of trim masks say no: a plain sentence, a code for words of a screen, and the values it is about."""


class Refusal(ValueError):
    """What was given cannot be. `code` never changes; `values` are plain numbers (mm) and texts, by name."""

    def __init__(self, code: str, sentence: str, **values: object) -> None:
        """Keeps code and values beside the sentence."""
        super().__init__(sentence)
        self.code = code
        self.values = values
