"""Bytes beside the entries, what was withheld, closed keys, log-ins, and the tables that repeat the entries."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

from tenthbook.faces.store.migrations import set_triggers
from tenthbook.faces.store.triggers import ATTACHED, SECOND


class Migration(migrations.Migration):

    dependencies = [
        ('store', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='AttachedBytes',
            fields=[
                ('commitment', models.CharField(max_length=64, primary_key=True, serialize=False)),
                ('salt', models.BinaryField()),
                ('content', models.BinaryField()),
            ],
            options={
                'db_table': 'attached_bytes',
            },
        ),
        migrations.CreateModel(
            name='ClosedKey',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('person', models.CharField(db_index=True, max_length=60)),
                ('public_key', models.BinaryField()),
                ('salt', models.BinaryField()),
                ('nonce', models.BinaryField()),
                ('closed', models.BinaryField()),
            ],
            options={
                'db_table': 'closed_key',
            },
        ),
        migrations.CreateModel(
            name='WithheldMark',
            fields=[
                ('commitment', models.CharField(max_length=64, primary_key=True, serialize=False)),
                ('entry', models.CharField(max_length=64)),
            ],
            options={
                'db_table': 'withheld_mark',
            },
        ),
        migrations.CreateModel(
            name='Account',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('person', models.CharField(max_length=60)),
                ('user', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='account', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'db_table': 'account',
            },
        ),
        migrations.CreateModel(
            name='DispositionRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('stream', models.CharField(max_length=60)),
                ('entry', models.PositiveIntegerField()),
                ('acted_at', models.CharField(max_length=20)),
                ('counts', models.BooleanField()),
                ('tag', models.CharField(max_length=20)),
                ('part', models.CharField(max_length=100)),
                ('word', models.CharField(max_length=40)),
                ('person', models.CharField(max_length=60)),
            ],
            options={
                'db_table': 'disposition',
                'indexes': [models.Index(fields=['part', 'counts'], name='disposition_by_part')],
                'constraints': [models.UniqueConstraint(fields=('stream', 'entry'), name='one_disposition_an_entry')],
            },
        ),
        migrations.CreateModel(
            name='ReadingRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('stream', models.CharField(max_length=60)),
                ('entry', models.PositiveIntegerField()),
                ('acted_at', models.CharField(max_length=20)),
                ('counts', models.BooleanField()),
                ('tag', models.CharField(max_length=20)),
                ('part', models.CharField(max_length=100)),
                ('row', models.CharField(max_length=100)),
                ('row_digest', models.CharField(max_length=64)),
                ('value', models.CharField(max_length=80)),
                ('size_pm', models.BigIntegerField(null=True)),
                ('station', models.CharField(max_length=100)),
                ('direction', models.CharField(max_length=100)),
                ('gauge', models.CharField(max_length=40)),
                ('person', models.CharField(max_length=60)),
            ],
            options={
                'db_table': 'reading',
                'indexes': [
                    models.Index(fields=['row', 'counts'], name='reading_by_row'),
                    models.Index(fields=['gauge', 'counts'], name='reading_by_gauge'),
                    models.Index(fields=['part', 'counts'], name='reading_by_part'),
                ],
                'constraints': [models.UniqueConstraint(fields=('stream', 'entry'), name='one_reading_an_entry')],
            },
        ),
        migrations.CreateModel(
            name='ToolUseRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('stream', models.CharField(max_length=60)),
                ('entry', models.PositiveIntegerField()),
                ('acted_at', models.CharField(max_length=20)),
                ('counts', models.BooleanField()),
                ('gauge', models.CharField(max_length=40)),
                ('certificate', models.CharField(max_length=100)),
                ('used_by', models.CharField(max_length=60)),
            ],
            options={
                'db_table': 'tool_use',
                'indexes': [models.Index(fields=['gauge', 'counts'], name='use_by_gauge')],
                'constraints': [models.UniqueConstraint(fields=('stream', 'entry'), name='one_use_an_entry')],
            },
        ),
        migrations.RunPython(set_triggers(*SECOND, ATTACHED), migrations.RunPython.noop),
    ]
