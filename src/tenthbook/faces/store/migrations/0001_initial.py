"""The first tables: entries and kept bytes, append-only."""

from django.db import migrations, models

from tenthbook.faces.store.migrations import set_triggers
from tenthbook.faces.store.triggers import FIRST


class Migration(migrations.Migration):
    """Makes the two tables and their triggers."""

    initial = True
    dependencies = []
    operations = [
        migrations.CreateModel(
            name="EntryRow",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("stream", models.CharField(max_length=60)),
                ("number", models.PositiveIntegerField()),
                ("request", models.CharField(max_length=200)),
                ("kind", models.CharField(max_length=60)),
                ("hash", models.CharField(max_length=64, unique=True)),
                ("body", models.BinaryField()),
                ("signature", models.BinaryField()),
            ],
            options={
                "db_table": "ledger_entry",
                "constraints": [
                    models.UniqueConstraint(fields=["stream", "number"], name="one_entry_a_number"),
                    models.UniqueConstraint(fields=["stream", "request"], name="one_entry_a_request"),
                ],
            },
        ),
        migrations.CreateModel(
            name="KeptBytes",
            fields=[
                ("digest", models.CharField(max_length=64, primary_key=True, serialize=False)),
                ("content", models.BinaryField()),
            ],
            options={"db_table": "kept_bytes"},
        ),
        migrations.RunPython(set_triggers(*FIRST), migrations.RunPython.noop),
    ]
