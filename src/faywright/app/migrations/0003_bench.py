from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("faywright", "0002_documents"),
    ]

    operations = [
        migrations.CreateModel(
            name="CutDone",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("piece", models.PositiveBigIntegerField()),
                ("cut", models.TextField()),
                ("height", models.FloatField()),
                ("fence", models.FloatField()),
                ("at", models.DateTimeField()),
                ("author", models.TextField()),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("piece", "cut"), name="cut_done_once")
                ],
            },
        ),
        migrations.CreateModel(
            name="Submission",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.TextField(unique=True)),
                ("at", models.DateTimeField()),
                ("answer", models.JSONField()),
            ],
        ),
    ]
