"""The addresses of moving in by hand: the walk along the racks, how a tool stands, and the first steps of a shop."""

from django.urls import path

from tooling.views import begin, try_demo, walk

urlpatterns = [
    path("walk/", walk.walk, name="walk"),
    path("walk/<str:code>/back/", walk.take_back, name="take_back"),
    path("tools/<str:code>/starting-state/", walk.starting_state, name="starting_state"),
    path("begin/place/", begin.first_place, name="first_place"),
    path("begin/recipe/", begin.first_recipe, name="first_recipe"),
    path("begin/tool/", begin.first_tool, name="first_tool"),
    path("begin/leave/", begin.leave, name="leave_steps"),
    path("try/", try_demo.try_demo, name="try_demo"),
]
