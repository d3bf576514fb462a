"""The codes that are on tags, as they are drawn: kept, since working one out takes as long as drawing its tag."""

from django.db import models
from django.utils.translation import gettext_lazy as _

LONGEST_ADDRESS = 400
_OF_TOOL = models.Q(tool__isnull=False, place__isnull=True)
_OF_PLACE = models.Q(tool__isnull=True, place__isnull=False)


class TagCode(models.Model):
    """The code of one tool or place, for the address that it leads to. Of another address it is made anew."""

    tool = models.OneToOneField("Tool", models.CASCADE, null=True, blank=True, related_name="tag_code")
    place = models.OneToOneField("Place", models.CASCADE, null=True, blank=True, related_name="tag_code")
    address = models.CharField(_("address"), max_length=LONGEST_ADDRESS)
    modules = models.PositiveSmallIntegerField(_("modules a side"))
    dark = models.TextField(_("which are dark, in hexadecimal digits"))

    class Meta:
        ordering = ["pk"]
        verbose_name = _("code of a tag")
        verbose_name_plural = _("codes of tags")
        constraints = [models.CheckConstraint(condition=_OF_TOOL | _OF_PLACE, name="tag_code_of_one_thing")]

    def __str__(self) -> str:
        return self.address
