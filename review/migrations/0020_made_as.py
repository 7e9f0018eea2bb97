from __future__ import annotations

from django.db import migrations, models


class Migration(migrations.Migration):
    """What was made before is for nobody: it is made again, as it would be ten minutes later."""

    dependencies = [("review", "0019_blind_questions")]

    operations = [
        migrations.AddField(
            model_name="making",
            name="role",
            field=models.CharField(
                choices=[("writer", "Writer"), ("producer", "Producer"), ("crew", "Crew"), ("cast", "Cast")],
                default="",
                max_length=10,
            ),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="making",
            name="reads_alone",
            field=models.BooleanField(default=False),
            preserve_default=False,
        ),
    ]
