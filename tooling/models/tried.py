"""What somebody tried in the demo, and whether the strip that leads there was put away."""

from django.db import models

STRIP = "strip"  # the step that is no step: the strip on the first page is put away


class Tried(models.Model):
    """A step that a person ticked."""

    person = models.ForeignKey("Person", models.CASCADE, related_name="+")
    step = models.CharField(max_length=20)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "step"], name="tried_once")]

    def __str__(self) -> str:
        return f"{self.person} {self.step}"
