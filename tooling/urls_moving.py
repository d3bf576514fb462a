"""The addresses of moving in and out, and of the jobs that do it."""

from django.urls import path

from tooling.views import jobs, matching, moving_in

urlpatterns = [
    path("import/", moving_in.imports, name="imports"),
    path("import/moving-in.xlsx", moving_in.template_workbook, name="import_template"),
    path("import/<int:number>/", moving_in.import_one, name="import_one"),
    path("import/<int:number>/match/", matching.match, name="import_match"),
    path("import/<int:number>/words/", matching.words, name="import_words"),
    path("import/<int:number>/try/", moving_in.try_again, name="import_try"),
    path("import/<int:number>/again/", moving_in.upload_again, name="import_again"),
    path("import/<int:number>/marked-up/", moving_in.marked_up, name="import_marked_up"),
    path("import/<int:number>/bring-in/", moving_in.bring_in, name="import_bring_in"),
    path("import/<int:number>/drop/", moving_in.drop, name="import_drop"),
    path("export/", moving_in.export, name="export"),
    path("jobs/", jobs.jobs, name="jobs"),
    path("jobs/<int:number>/", jobs.job, name="job"),
    path("jobs/<int:number>/cancel/", jobs.cancel, name="cancel_job"),
    path("jobs/<int:number>/file/", jobs.fetch, name="job_file"),
]
