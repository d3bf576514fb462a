"""Readings as a picture on pages."""

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from tooling.drawing.trend import DESK, PHONE, Trend, trend

register = template.Library()


@register.simple_tag
def trend_picture(shown: Trend) -> SafeString:
    """Once for a phone and once for a desk: the letters of both are as large."""
    both = (trend(shown, PHONE), trend(shown, DESK, 220.0))
    return format_html('<div class="for-phone">{}</div><div class="for-desk">{}</div>', *both)


@register.simple_tag
def small_trend(shown: Trend) -> SafeString:
    """Small, for a panel beside others."""
    return trend(shown, PHONE, 96.0, legend=False)
