"""Which address shows what."""

from __future__ import annotations

from django.urls import path

from tenthbook.faces.web import calc_api, calc_views, do_views, record_views, views, where_views

handler404 = "tenthbook.faces.web.views.not_found"

urlpatterns = [
    path("", views.jobs, name="jobs"),
    path("job/<str:job>/", views.job_page, name="job"),
    path("job/<str:job>/reading/", views.take_reading, name="reading"),
    path("job/<str:job>/answer/", views.answer_question, name="answer"),
    path("job/<str:job>/where/", where_views.where_page, name="where"),
    path("job/<str:job>/put-down/", where_views.put_down, name="put-down"),
    path("job/<str:job>/gates/", where_views.gates_page, name="gates"),
    path("job/<str:job>/do/", do_views.acts, name="do"),
    path("job/<str:job>/do/<str:kind>/", do_views.act, name="do-act"),
    path("job/<str:job>/record/", record_views.record_page, name="record"),
    path("job/<str:job>/mend/", record_views.mend, name="mend"),
    path("job/<str:job>/sign/", record_views.sign, name="sign"),
    path("job/<str:job>/photograph/", record_views.take_photograph, name="take-photograph"),
    path("job/<str:job>/photograph/<int:number>.jpg", record_views.photograph, name="photograph"),
    path("calc/", calc_views.calculators, name="calculators"),
    path("calc/<str:name>", calc_views.calculator, name="calculator"),
    path("api/openapi.json", calc_api.openapi),
    path("api/calc", calc_api.listing),
    path("api/calc/<str:name>", calc_api.compute),
    path("api/calc/<str:name>/schema", calc_api.schema),
    path("api/calc/<str:name>/example", calc_api.example),
]
