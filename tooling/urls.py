"""The addresses of plugs, molds, inserts and what belongs to every tool."""

from django.urls import path

from tooling import (
    urls_catalogue,
    urls_containment,
    urls_deeds,
    urls_holds,
    urls_keep,
    urls_looks,
    urls_making,
    urls_moving,
    urls_people,
    urls_pictures,
    urls_readings,
    urls_serials,
    urls_tags,
    urls_walk,
    urls_wanted,
)
from tooling.views import board, door, family, lift, recipes, temperature, tool, tool_sheet, tools, wall
from tooling.views.first_lead import become_first_lead

urlpatterns = [
    path("sign-in/", door.SignIn.as_view(), name="sign_in"),
    path("", board.morning, name="board"),
    path("wall/", wall.wall, name="wall"),
    path("wall/rows/", wall.wall_rows, name="wall_rows"),
    # Before the pages of tools: "new" is no code.
    *urls_catalogue.urlpatterns,
    path("tools/", tools.tools, name="tools"),
    path("tools.csv", tools.table, name="tools_table"),
    path("tools/<str:code>/", tool.tool, name="tool"),
    path("tools/<str:code>/lift/", lift.lift, name="lift"),
    path("tools/<str:code>/sheet.pdf", tool_sheet.tool_sheet, name="tool_sheet"),
    path("tools/<str:code>/family/", family.family, name="family"),
    path("tools/<str:code>/family.pdf", family.family_sheet, name="family_sheet"),
    path("temperature/", temperature.temperature, name="temperature"),
    path("temperature/<int:number>/rub-out/", temperature.rub_out_temperature, name="rub_out_temperature"),
    path("temperature/<int:number>/strike/", temperature.strike_temperature, name="strike_temperature"),
    path("recipes/", recipes.recipes, name="recipes"),
    path("recipes/new/", recipes.new_recipe, name="new_recipe"),
    path("recipes/<str:code>/", recipes.recipe, name="recipe"),
    path("recipes/<str:code>/change/", recipes.change, name="change_recipe"),
    path("recipes/<str:code>/take-in/", recipes.take_in, name="take_in_recipe"),
    *urls_serials.urlpatterns,
    *urls_containment.urlpatterns,
    *urls_keep.urlpatterns,
    path("first/<str:token>/", become_first_lead, name="first_lead"),
    *urls_deeds.urlpatterns,
    *urls_holds.urlpatterns,
    *urls_looks.urlpatterns,
    *urls_pictures.urlpatterns,
    *urls_moving.urlpatterns,
    *urls_people.urlpatterns,
    *urls_walk.urlpatterns,
    *urls_making.urlpatterns,
    *urls_tags.urlpatterns,
    *urls_wanted.urlpatterns,
    *urls_readings.urlpatterns,
]
