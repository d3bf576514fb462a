"""Deeds that are done on pages of this app, as reasons name them."""

from django.utils.translation import gettext_lazy as _

from tooling.words.deeds import Deed

CUTTER = Deed("cutter", _("Cutters"), of="cutter")
