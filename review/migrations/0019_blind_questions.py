from __future__ import annotations

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("review", "0018_said_of_scenes")]

    operations = [
        migrations.RenameModel(old_name="Question", new_name="BlindQuestion"),
        migrations.RenameModel(old_name="Answer", new_name="BlindAnswer"),
    ]
