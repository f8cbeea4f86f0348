"""Which address shows what."""

from __future__ import annotations

from django.urls import path

from tenthbook.faces.web import views

handler404 = "tenthbook.faces.web.views.not_found"

urlpatterns = [
    path("", views.jobs, name="jobs"),
    path("job/<str:job>/", views.job_page, name="job"),
    path("job/<str:job>/reading/", views.take_reading, name="reading"),
    path("job/<str:job>/answer/", views.answer_question, name="answer"),
]
