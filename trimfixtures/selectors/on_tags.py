"""What the tag of a trim mask says of it besides what every tag says: at which cut it is used."""

from collections.abc import Collection

from trimfixtures.models import Mask
from trimfixtures.words.standing import on_tag


def stages(tools: Collection[int], units: str) -> dict[int, str]:
    """The line of each of these tools that is a trim mask with a stage, by its key."""
    rows = Mask.objects.filter(tool__in=tools).exclude(stage="")
    return {one.tool_id: on_tag(one) for one in rows}
