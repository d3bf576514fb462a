"""The addresses of people, of the links that let them in, and of the shop's settings."""

from django.urls import path

from tooling.views import people
from tooling.views.join import join

urlpatterns = [
    path("people/", people.people, name="people"),
    path("people/new/", people.new_person, name="new_person"),
    path("people/<int:number>/", people.person, name="person"),
    path("join/<str:token>/", join, name="join"),
]
