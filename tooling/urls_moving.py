"""The addresses of moving in and out, and of the jobs that do it."""

from django.urls import path

from tooling.views import jobs

urlpatterns = [
    path("jobs/", jobs.jobs, name="jobs"),
    path("jobs/<int:number>/", jobs.job, name="job"),
    path("jobs/<int:number>/cancel/", jobs.cancel, name="cancel_job"),
    path("jobs/<int:number>/file/", jobs.fetch, name="job_file"),
]
