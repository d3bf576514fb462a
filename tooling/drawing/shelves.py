"""A rack with one mold on it, as a picture."""


def shelf_picture() -> str:
    """Two uprights, three shelves and a mold on the middle one; drawn for the eye alone."""
    uprights = "".join(f'<path d="M{x} 8V112"/>' for x in (30, 130, 230))
    shelves = "".join(f'<path d="M26 {y}H234"/>' for y in (34, 72, 108))
    mold = '<path class="sh-mold" d="M40 71C52 50 106 50 120 71Z"/>'
    return (
        '<svg class="draw shelf" viewBox="0 0 260 120" aria-hidden="true" focusable="false">'
        f'<g class="sh-line">{uprights}{shelves}</g>{mold}</svg>'
    )
