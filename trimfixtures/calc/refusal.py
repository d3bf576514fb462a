"""How the numbers of trim masks say no: a plain sentence, a code for words of a screen, and the values it is about."""

from math import inf


class Refusal(ValueError):
    """What was given cannot be. `code` never changes; `values` are plain numbers (mm) and texts, by name."""

    def __init__(self, code: str, sentence: str, **values: object) -> None:
        """Keeps code and values beside the sentence."""
        super().__init__(sentence)
        self.code = code
        self.values = values


def above_zero(**sizes: float | None) -> None:
    """Refuses sizes that nothing has; None is one that is not known.

    Parameters:
        sizes [mm]: by what each is of.

    Returns:
        [-] nothing.

    Raises:
        Refusal: `not_above_zero`.

    Source: the house's own rule.
    """
    for name, size in sizes.items():
        if size is not None and not 0 < size < inf:
            raise Refusal("not_above_zero", f"The {name} is {size}; it is above 0.", name=name, size=size)
