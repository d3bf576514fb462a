"""The addresses of tags: what is to print, the prints, and where the tags lead."""

from django.urls import path

from tooling.views import tag_prints, tags

urlpatterns = [
    path("tags/", tags.tags, name="tags"),
    path("tags/reserved/", tags.reserved, name="tag_address_reserved"),
    path("tags/print/", tag_prints.print_tags, name="print_tags"),
    path("tags/prints/<int:number>/", tag_prints.printed, name="printed_tags"),
    path("tags/prints/<int:number>/put-back/", tag_prints.put_back, name="put_back_tags"),
    path("tags/prints/<int:number>/tags.pdf", tag_prints.file, name="printed_tags_file"),
]
