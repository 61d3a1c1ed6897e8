"""Runs the two commands of README.md where nothing else is installed, and says how each went.

    python3 -m tests.bare_machine [--root FOLDER] [demo | tests [WORDS FOR PYTEST]]

The machine is a Debian with git, python3 and python3-venv alone, made in a temporary folder and
removed afterwards; --root keeps it in FOLDER for the next time. What is committed is tried. It takes
root, debootstrap and pip; the mirror and the package index are those that apt and pip use here.
"""

import argparse
import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
RELEASE = "bookworm"
PACKAGES = ("git", "python3", "python3-venv")
COPY = "/srv/exchange"
DEMO_WITHIN_S = 900
"""Judgement: what installing and building the circle may take on a slow machine."""
ASKED_OF_PIP = ("index-url", "extra-index-url", "find-links", "cert", "trusted-host", "proxy")
PROXIES = ("http_proxy", "https_proxy", "no_proxy")
ASK = "import sys, urllib.request as u; a = u.urlopen(sys.argv[1]); print(a.status, len(a.read()))"


def main() -> int:
    """Make the machine, run what is asked for, and give the number of commands that failed."""
    asked = _asked()
    failed = 0
    with _kept_or_passing(asked.root) as folder:
        _make(folder)
        if asked.what in ("both", "demo"):
            _copy(folder)
            failed += not _demo(folder)
        if asked.what in ("both", "tests"):
            _copy(folder)
            failed += not _tests(folder, asked.words)
    return failed


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="tests.bare_machine",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--root", type=Path, help="where the Debian is kept")
    parser.add_argument("what", nargs="?", choices=("both", "demo", "tests"), default="both")
    parser.add_argument("words", nargs=argparse.REMAINDER, help="handed on to pytest")
    return parser.parse_args()


@contextmanager
def _kept_or_passing(kept: Path | None) -> Iterator[Path]:
    if kept is not None:
        yield kept.resolve()
        return
    passing = Path(tempfile.mkdtemp(prefix="bare-machine-"))
    passing.chmod(0o755)  # apt's own user must be able to read it
    try:
        yield passing / "root"
    finally:
        # Nothing may still be mounted, or the removal would reach into this machine.
        _run("rm", "-rf", "--one-file-system", str(passing))


def _make(folder: Path) -> None:
    if (folder / "usr" / "bin" / "git").exists():
        return
    packages = f"--include={','.join(PACKAGES)}"
    _run("debootstrap", "--variant=minbase", packages, RELEASE, str(folder), _mirror())


def _copy(folder: Path) -> None:
    """Put a fresh clone of what is committed on the machine."""
    there = folder / COPY.lstrip("/")
    shutil.rmtree(there, ignore_errors=True)
    _run("git", "clone", "--quiet", "--no-hardlinks", str(TOP), str(there))


def _demo(folder: Path) -> bool:
    """Start the demonstration, ask for its page, and stop it as Ctrl-C does."""
    begun = time.monotonic()
    told = folder / "demo.log"
    with told.open("w", encoding="utf-8") as log:
        demo = subprocess.Popen(
            _inside(folder, "bash", "-c", f"cd {COPY} && {_command('exchange demo')}"),
            stdout=log,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
            start_new_session=True,
        )
    try:
        address = _address_in(told, demo, begun)
        ready_s = time.monotonic() - begun
        answer = _run(*_inside(folder, "python3", "-c", ASK, address)) if address else ""
    finally:
        if demo.poll() is None:
            os.killpg(demo.pid, signal.SIGINT)
        stopped = demo.wait(timeout=60)
    right = answer.startswith("200 ") and stopped == 0
    print(told.read_text(encoding="utf-8") if not right else "", end="")
    print(f"demo: {address or 'no address'} after {ready_s:.0f} s, answered {answer.strip()!r},")
    print(f"      and ended with {stopped} when it was stopped: {'right' if right else 'WRONG'}")
    return right


def _address_in(told: Path, demo: subprocess.Popen[bytes], begun: float) -> str:
    while demo.poll() is None and time.monotonic() < begun + DEMO_WITHIN_S:
        found = re.search(r"http://127\.0\.0\.1:\d+/", told.read_text(encoding="utf-8"))
        if found:
            return found[0]
        time.sleep(0.5)
    return ""


def _tests(folder: Path, words: list[str]) -> bool:
    command = f"cd {COPY} && {_command('pytest')} {shlex.join(words)}"
    done = subprocess.run(_inside(folder, "bash", "-c", command), check=False)
    print(f"tests: ended with {done.returncode}: {'right' if done.returncode == 0 else 'WRONG'}")
    return done.returncode == 0


def _command(ending: str) -> str:
    lines = (TOP / "README.md").read_text(encoding="utf-8").splitlines()
    (found,) = [
        line for line in lines if line.startswith("python3 -m venv ") and line.endswith(ending)
    ]
    return found


def _inside(folder: Path, *words: str) -> list[str]:
    """Give the words that run a command in the machine.

    Its mounts and processes have namespaces of their own: when it ends, both are gone.
    """
    settings = _pip_settings()
    mounts = [f"mount -t proc proc {folder}/proc"]
    for path in _paths_in(settings.values()):
        there = f"{folder}{path}"
        make = f"mkdir -p {there}" if path.is_dir() else f"touch {there}"
        mounts.append(f"{make} && mount --bind -o ro {path} {there}")
    home = {"PATH": "/usr/sbin:/usr/bin:/sbin:/bin", "HOME": "/root", "LANG": "C.UTF-8"}
    proxies = {name: os.environ[name] for name in PROXIES if name in os.environ}
    set_up = " && ".join([*mounts, f'exec chroot {folder} "$@"'])
    return [
        *("env", "-i", *(f"{name}={value}" for name, value in (home | proxies | settings).items())),
        *("unshare", "--mount", "--pid", "--fork", "--kill-child"),
        *("sh", "-c", set_up, "sh", *words),
    ]


def _mirror() -> str:
    wanted = ("Created-By: Packages", f"Codename: {RELEASE}")
    told = _run("apt-get", "indextargets", "--format", "$(REPO_URI)", *wanted).split()
    if not told:
        raise SystemExit(f"apt is set to no mirror of Debian {RELEASE} here.")
    return told[0]


def _pip_settings() -> dict[str, str]:
    """Give where pip finds packages on this machine, as variables; the environment decides first."""
    told = _run(sys.executable, "-m", "pip", "config", "list")
    found: dict[str, str] = {}
    for line in sorted(told.splitlines(), key=lambda line: not line.startswith(":env:")):
        name, _, value = line.partition("=")
        key = name.rsplit(".", 1)[-1]
        if key in ASKED_OF_PIP:
            found.setdefault(f"PIP_{key.replace('-', '_').upper()}", shlex.split(value)[0])
    return found


def _paths_in(values: Iterable[str]) -> list[Path]:
    """Give the files and folders of this machine that pip's settings name."""
    words = {word for value in values for word in value.split()}
    # An index in a folder may point at files that lie beside it.
    indexes = {Path(word.removeprefix("file://")).parent for word in words if "file://" in word}
    plain = {Path(word) for word in words if word.startswith("/")}
    return sorted(path for path in indexes | plain if path.exists())


def _run(*words: str) -> str:
    done = subprocess.run(words, stdout=subprocess.PIPE, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{shlex.join(words)} ended with {done.returncode}.\n{done.stdout}")
    return done.stdout


if __name__ == "__main__":
    sys.exit(main())
