"""A word that is marked for a department is called what it is."""

from __future__ import annotations

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("review", "0033_papers_told")]

    operations = [
        migrations.RenameModel("DepartmentMark", "MarkedWord"),
        migrations.AlterField(
            model_name="markedword",
            name="made_by",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="words_marked", to="review.member"
            ),
        ),
        migrations.AlterField(
            model_name="markedword",
            name="production",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="marked_words", to="review.production"
            ),
        ),
    ]
