"""The addresses of pictures: those of a tool, one of them to be changed, many at once, and the files themselves."""

from django.urls import path, register_converter

from tooling.views import entry_pictures, picture_folder, pictures


class Digest:
    """The SHA-256 of a stored file."""

    regex = "[0-9a-f]{64}"

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(Digest, "digest")

urlpatterns = [
    path("tools/<str:code>/pictures/", pictures.pictures, name="pictures"),
    path("tools/<str:code>/pictures/<int:number>/", pictures.change_picture, name="change_picture"),
    path("tools/<str:code>/pictures/<int:number>/mark/", entry_pictures.mark_picture, name="mark_picture"),
    path("tools/<str:code>/entries/<int:number>/pictures/", entry_pictures.entry_pictures, name="entry_pictures"),
    path("pictures/", picture_folder.many_pictures, name="many_pictures"),
    path("pictures/<digest:digest>.jpg", pictures.picture_file, name="picture_file"),
]
