"""The addresses of backups, of the check of the history, and of the seals."""

from django.urls import path

from tooling.views import keep

urlpatterns = [
    path("keep/", keep.keep, name="keep"),
    path("keep/back-up/", keep.back_up_now, name="back_up_now"),
    path("keep/check/", keep.check_now, name="check_now"),
    path("keep/seal/", keep.seal, name="keep_seal"),
    path("keep/backups/<str:backup>", keep.backup_file, name="backup_file"),
]
