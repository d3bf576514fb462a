"""The page that stands in the place of a tool's where there is none of the code."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from tooling.selectors.tools import near


def no_tool(request: HttpRequest, code: str) -> HttpResponse:
    """No tool has or had the code: those whose codes look like it."""
    return render(request, "tooling/no_tool.html", {"code": code, "near": near(code.replace("\x00", ""))}, status=404)
