"""The addresses of the program, and those of the bench that its pages are measured against."""

from collections.abc import Callable
from typing import Any

from django.contrib import admin
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, JsonResponse
from django.urls import path

from shared.urls import urlpatterns as program
from tooling.models import Tool
from tooling.views.tools import PAGE

# What the view of plain rows sends; the bench says which.
fetch: Callable[[], list[Any]] = list


@login_not_required
def as_json(request: HttpRequest) -> JsonResponse:
    """Rows as they came from the database."""
    return JsonResponse(fetch(), safe=False)


class OpenSite(admin.AdminSite):
    """For anybody: the people of the program have no rights of the admin's kind."""

    def has_permission(self, request: HttpRequest) -> bool:
        return True


class Tools(admin.ModelAdmin):
    """A list of tools as somebody would have it at once: the columns and filters that the Find page has."""

    list_display = (
        "code", "name", "kind", "owner", "making", "state", "pulls_left", "total_pulls", "since_coat", "home",
        "last_seen", "in_mold", "held",
    )  # fmt: skip
    list_select_related = ("summary__home", "summary__seen_place", "summary__in_mold_of", "summary__held_by")
    list_filter = ("kind", "summary__making", "summary__retired", "summary__home")
    search_fields = ("code", "name", "owner")
    list_per_page = PAGE

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return True

    has_module_permission = has_change_permission = has_view_permission  # type: ignore[assignment]
    has_add_permission = has_delete_permission = lambda self, request, obj=None: False

    def get_queryset(self, request: HttpRequest) -> Any:
        return super().get_queryset(request).prefetch_related("spans")

    @admin.display
    def state(self, tool: Tool) -> str:
        return next(iter(tool.spans.all())).status

    @admin.display
    def pulls_left(self, tool: Tool) -> int:
        return next(iter(tool.spans.all())).pulls_left


def _column(name: str) -> Callable[[Tools, Tool], Any]:
    return admin.display(description=name)(lambda self, tool: getattr(tool.summary, name))


for column, name in {
    "making": "making", "total_pulls": "total_pulls", "since_coat": "since_coat", "home": "home",
    "last_seen": "seen_place", "in_mold": "in_mold_of", "held": "held_by",
}.items():  # fmt: skip
    setattr(Tools, column, _column(name))

site = OpenSite(name="admin")
site.register(Tool, Tools)
urlpatterns = [path("bench/json/", as_json), path("bench/admin/", site.urls), *program]
