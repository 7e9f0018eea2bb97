from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("review", "0036_asked_again"),
    ]

    operations = [
        migrations.AddField(
            model_name="worldpaper",
            name="put_up_as",
            field=models.CharField(blank=True, default="", editable=False, max_length=16),
            preserve_default=False,
        ),
    ]
