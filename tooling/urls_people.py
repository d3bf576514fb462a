"""The addresses of people, of the links that let them in, and of the shop's settings."""

from django.urls import path

from tooling.views import people, rights
from tooling.views.join import join
from tooling.views.shop import shop_settings

urlpatterns = [
    path("people/", people.people, name="people"),
    path("people/new/", people.new_person, name="new_person"),
    path("people/<int:number>/", people.person, name="person"),
    path("people/<int:number>/rights/", rights.person_rights, name="person_rights"),
    path("rights/", rights.rights, name="rights"),
    path("shop/", shop_settings, name="shop_settings"),
    path("join/<str:token>/", join, name="join"),
]
