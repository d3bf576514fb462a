"""The addresses of readings and their limits."""

from django.urls import path

from tooling.views import reading_limits, readings

urlpatterns = [
    path("readings/limits/", reading_limits.reading_limits, name="reading_limits"),
    path("tools/<str:code>/readings/", readings.readings, name="readings"),
    path("tools/<str:code>/readings.csv", readings.table, name="readings_table"),
]
