"""Flags: what was kept and yet should not have happened."""

from django.db import models


class Flag(models.Model):
    """One flag of one entry on one surface, once each. A refold may lay them anew."""

    entry = models.ForeignKey("Entry", models.PROTECT, related_name="flags", db_index=False)
    surface = models.ForeignKey("Tool", models.CASCADE, related_name="flags")
    flag = models.CharField(max_length=40)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["entry", "surface", "flag"], name="flag_once"),
        ]

    def __str__(self) -> str:
        return self.flag
