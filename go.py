"""Set rubrail up beside this file, then run it. Needs Python 3.11 or newer and nothing else.

    python go.py demo           the main job on the invented yard, then the desk in a browser
    python go.py test [ARGS]    the tests; ARGS go to pytest
    python go.py run -- ARGS    any rubrail command
    python go.py lint           style and the rules on who may import whom

The first run makes .venv here and installs the pinned, hashed packages of requirements.lock (for
test and lint: requirements-test.lock). Later runs find the stamp it leaves and start at once.
"""
# Kept readable by any Python since 2.7 (no f-strings, no annotations), because an old Python must reach
# the sentence that says it is too old.

import errno
import hashlib
import io
import json
import os
import re
import shutil
import subprocess
import sys

OLDEST = (3, 11)
ROOT = os.path.dirname(os.path.abspath(__file__))
VENV = os.path.join(ROOT, ".venv")
STAMP = os.path.join(VENV, "rubrail-setup.json")
LOG = os.path.join(VENV, "rubrail-setup.log")
WINDOWS = os.name == "nt"
BIN = os.path.join(VENV, "Scripts" if WINDOWS else "bin")
PYTHON = os.path.join(BIN, "python.exe" if WINDOWS else "python")
LOCKS = {"run": "requirements.lock", "test": "requirements-test.lock"}
# What each set takes once installed, with room for pip to unpack beside it.
ROOM_MB = {"run": 700, "test": 1500}
# The same entry as in pyproject.toml; a test holds the two together.
ENTRY = "rubrail.cli.main:run"


class SetupError(Exception):
    """Set-up cannot go on; the message is the one sentence the user reads."""


# ---------------------------------------------------------------- what is there


def read_stamp():
    """What the last set-up left behind: which locks are in, and whether it was cut short."""
    try:
        with io.open(STAMP, encoding="utf-8") as file:
            stamp = json.load(file)
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def write_stamp(stamp):
    """Replace the stamp in one step, so that a crash leaves the old one or the new one."""
    with io.open(STAMP + ".new", "w", encoding="utf-8") as file:
        file.write(json.dumps(stamp, sort_keys=True))
    os.replace(STAMP + ".new", STAMP)


def digest(kind):
    """Hash of everything that decides what set-up of this kind installs."""
    return hashlib.sha256((beside(LOCKS[kind]) + project_version() + entry_code()).encode()).hexdigest()


def beside(name):
    """Text of a file of the project."""
    try:
        with io.open(os.path.join(ROOT, name), encoding="utf-8") as file:
            return file.read()
    except OSError:
        raise SetupError("{} is missing beside go.py; get the whole project folder again.".format(name))


def project_version():
    """The version pyproject.toml states."""
    return re.search(r'(?m)^version = "([^"]+)"', beside("pyproject.toml")).group(1)


def entry_code():
    """The line of Python that is the command rubrail."""
    return "import sys; sys.argv[0] = 'rubrail'; from {0} import {1}; sys.exit({1}())".format(*ENTRY.split(":"))


def is_ready(kind):
    """True when .venv holds exactly what this kind of run needs."""
    stamp = read_stamp()
    return not stamp.get("busy") and stamp.get(kind) == digest(kind) and os.path.exists(PYTHON)


def is_begun():
    """True when .venv holds anything that could be someone's work."""
    if os.path.isdir(VENV):
        return bool(set(os.listdir(VENV)) - {os.path.basename(STAMP) + ".new"})
    return os.path.lexists(VENV)


def answer(code):
    """What the environment's Python prints for a line of code; None when it does not run."""
    try:
        return subprocess.check_output(
            [PYTHON, "-I", "-c", code], stderr=subprocess.DEVNULL, timeout=60, universal_newlines=True
        ).strip()
    except (OSError, subprocess.SubprocessError):
        return None


# ---------------------------------------------------------------- making it


def child_env():
    """The environment for what we start: without the settings that would send packages elsewhere."""
    stray = ("PYTHONHOME", "PYTHONPATH", "PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PIP_NO_BINARY")
    env = {name: value for name, value in os.environ.items() if name not in stray}
    env.setdefault("PYTHONUTF8", "1")
    return env


def say(text):
    """One line to the user, on the error stream so that --json output stays clean."""
    sys.stderr.write(text + "\n")
    sys.stderr.flush()


def wait_for_turn():
    """Hold this file's lock, so that two set-ups in one folder go one after the other."""
    file = io.open(__file__, "rb")  # noqa: SIM115 - the caller closes it, which gives up the turn
    told = False
    while True:
        try:
            if WINDOWS:
                import msvcrt

                # A region past the end: Windows locks also stop readers, and this file must stay readable.
                file.seek(1 << 30)
                msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
            else:
                import fcntl

                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return file
        except OSError as fault:
            if fault.errno not in (errno.EACCES, errno.EAGAIN, errno.EDEADLK):
                return file  # A file system without locks: go on alone.
            if not told:
                say("Another set-up is under way in this folder; waiting for it.")
                told = True
            import time

            time.sleep(0.5)


def shared(turn):
    """The lock's handle for a child, so that a child that outlives a killed set-up still holds the turn."""
    return () if WINDOWS else (turn.fileno(),)


def check_room(kind):
    """Say before the download, not in the middle of it, that the disk is too full."""
    free_mb = shutil.disk_usage(ROOT).free // 1000000
    if free_mb < ROOM_MB[kind]:
        raise SetupError(
            "Not enough space: set-up needs about {} MB in {} and {} MB are free.".format(ROOM_MB[kind], ROOT, free_mb)
        )


def clear_half_made():
    """Remove a .venv that this script began and did not finish; refuse to touch any other."""
    if not read_stamp().get("ours"):
        raise SetupError(
            "The folder {} is in the way: it holds no working Python and go.py did not make it; "
            "move it away and run the same command again.".format(VENV)
        )
    say("The last set-up was cut short; making .venv anew.")
    try:
        shutil.rmtree(VENV)
    except OSError as fault:
        raise SetupError(
            "Cannot remove the half-made folder {} ({}); close whatever uses it, or remove it by hand.".format(
                VENV, fault.strerror
            )
        )


def make_venv(turn):
    """Make .venv with this Python, marked as ours before anything else is in it."""
    try:
        import ensurepip  # noqa: F401
        import venv  # noqa: F401
    except ImportError:
        raise SetupError(
            "This Python comes without venv and pip; on Debian or Ubuntu install them with: "
            "sudo apt install python3-venv"
        )
    os.makedirs(VENV, exist_ok=True)
    write_stamp({"busy": True, "ours": True})
    made = subprocess.run(
        [sys.executable, "-m", "venv", VENV],
        env=child_env(),
        pass_fds=shared(turn),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        universal_newlines=True,
    )
    if made.returncode:
        raise SetupError(explain(made.stdout, "making .venv"))


def install(kind, turn):
    """Let pip bring in every pin of the lock, ready-made and of the pinned content, or explain why not."""
    total = len(re.findall(r"(?m)^[A-Za-z0-9][\w.-]*==", beside(LOCKS[kind])))
    say("Setting up in .venv: {} pinned packages, once; this takes a minute or so.".format(total))
    command = [PYTHON, "-m", "pip", "install", "--require-hashes", "--only-binary", ":all:", "--no-deps"]
    command += ["--no-input", "--disable-pip-version-check", "--no-warn-script-location"]
    command += ["--progress-bar", "off", "-r", os.path.join(ROOT, LOCKS[kind])]
    pip = subprocess.Popen(
        command,
        env=child_env(),
        pass_fds=shared(turn),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        universal_newlines=True,
        errors="replace",
    )
    lines, seen = [], 0
    for line in pip.stdout:
        lines.append(line)
        if line.startswith(("Collecting ", "Requirement already")):
            seen += 1
            if sys.stderr.isatty():
                sys.stderr.write("\r  {} of {} ".format(seen, total))
                sys.stderr.flush()
    if sys.stderr.isatty():
        sys.stderr.write("\r" + " " * 20 + "\r")
    if pip.wait():
        text = "".join(lines)
        keep_log(text)
        raise SetupError(explain(text, "installing the packages"))


def keep_log(text):
    """Leave pip's own words for whoever looks into a failure; a full disk must not hide the first fault."""
    try:
        with io.open(LOG, "w", encoding="utf-8") as file:
            file.write(text)
    except OSError:
        pass


REASONS = (
    (r"No space left|Errno 28|WinError 112|not enough space", "the disk is full; make room"),
    (
        r"CERTIFICATE_VERIFY|SSLError|SSL: ",
        "the secure connection to the package index was refused; look at this network's proxy or certificates",
    ),
    (
        r"NewConnectionError|Failed to establish|name resolution|getaddrinfo|NameResolutionError|ProxyError"
        r"|ConnectTimeout|ReadTimeout|Connection refused|Connection reset|RemoteDisconnected|Network is unreach",
        "the package index cannot be reached; connect this machine to the internet",
    ),
    (
        r"DO NOT MATCH THE HASHES",
        "a downloaded package is not the pinned one, so nothing of it was used; try another network",
    ),
    (
        r"from versions: none",
        "the package index cannot be reached or has nothing for this Python ({}.{}); connect this machine to the "
        "internet, use 64-bit Python 3.11 to 3.14".format(*sys.version_info[:2]),
    ),
    (
        r"No matching distribution|Could not find a version",
        "no ready-made package fits this Python ({}.{}) on this system; use 64-bit Python 3.11 to 3.14".format(
            *sys.version_info[:2]
        ),
    ),
    (
        r"Permission denied|Access is denied|WinError (5|32)\b|Errno 13",
        "a file in .venv cannot be written; close whatever uses it, or fix the folder's permissions",
    ),
)


def explain(text, doing):
    """One sentence for a failed step, from what the tool printed."""
    for pattern, reason in REASONS:
        if re.search(pattern, text):
            return "Set-up stopped while {}: {}, then run the same command again.".format(doing, reason)
    said = [line.strip() for line in text.splitlines() if line.strip()]
    errors = [line for line in said if line.startswith(("ERROR", "Error"))] or said[-1:] or ["no word why"]
    return "Set-up stopped while {}: {} (all of it: {})".format(doing, errors[0][:200], LOG)


def link_project():
    """Make `import rubrail` and the command `rubrail` work from .venv, without a build tool.

    Does by hand what an editable install does: a path file, the package's record, and a launcher.
    """
    site = answer("import sysconfig; print(sysconfig.get_path('purelib'))")
    if not site:
        raise SetupError("The Python in {} does not run; remove that folder and try again.".format(VENV))
    version = project_version()
    for old in os.listdir(site):
        if re.match(r"rubrail-.*\.dist-info$", old):
            shutil.rmtree(os.path.join(site, old))
    info = "rubrail-{}.dist-info".format(version)
    if WINDOWS:
        launcher, script = "rubrail.cmd", '@"%~dp0python.exe" -c "{}" %*\n'
    else:
        launcher, script = "rubrail", '#!/bin/sh\nexec "$(dirname "$(readlink -f "$0")")/python" -c "{}" "$@"\n'
    launcher = os.path.join(BIN, launcher)
    files = {
        # Relative, so that the folder can be moved.
        "rubrail.pth": os.path.relpath(os.path.join(ROOT, "src"), site) + "\n",
        info + "/METADATA": "Metadata-Version: 2.1\nName: rubrail\nVersion: {}\n".format(version),
        info + "/INSTALLER": "go.py\n",
        info + "/entry_points.txt": "[console_scripts]\nrubrail = {}\n".format(ENTRY),
    }
    record = sorted(files) + [info + "/RECORD", os.path.relpath(launcher, site).replace(os.sep, "/")]
    files[info + "/RECORD"] = "".join(name + ",,\n" for name in record)
    os.makedirs(os.path.join(site, info))
    for name, text in files.items():
        with io.open(os.path.join(site, name), "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
    with io.open(launcher, "w", encoding="utf-8", newline="\r\n" if WINDOWS else "\n") as file:
        file.write(script.format(entry_code()))
    os.chmod(launcher, 0o755)


def set_up(kind):
    """Bring .venv to what this kind of run needs; does nothing when it already is."""
    if is_ready(kind):
        return
    turn = wait_for_turn()
    try:
        if is_ready(kind):
            return
        check_room(kind)
        if is_begun() and (read_stamp().get("busy") or answer("import pip") is None):
            clear_half_made()
        if not is_begun():
            make_venv(turn)
        stamp = read_stamp()
        ours = bool(stamp.get("ours"))
        if not ours and answer("import sys; print(sys.version_info >= {})".format(OLDEST)) != "True":
            raise SetupError("The folder {} holds a Python older than 3.11; move it away.".format(VENV))
        write_stamp({"busy": True, "ours": ours})
        done = {name: stamp[name] for name in LOCKS if name in stamp}
        try:
            install(kind, turn)
        except SetupError:
            # pip ended by itself, so nothing is half-written: the next run goes on from here.
            write_stamp({"ours": ours})
            raise
        link_project()
        done[kind] = digest(kind)
        if kind == "test":  # The test lock holds every pin of the other one; a test sees to that.
            done["run"] = digest("run")
        write_stamp(dict(done, ours=ours))
        say("Set up.")
    finally:
        turn.close()


# ---------------------------------------------------------------- running


def test_arguments(arguments):
    """Pytest's arguments, spread over the cores unless the caller steers that or needs one process."""
    alone = ("-n", "--numprocesses", "--dist", "--pdb", "-s", "--capture", "-h", "--help", "--version", "--trace")
    alone += ("--collect-only", "--fixtures", "--markers", "--setup-plan", "no:xdist")
    if any(argument == "--co" or argument.startswith(alone) for argument in arguments):
        return arguments
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return ["-n", str(min(max(cores, 2), 8)), "--dist", "loadgroup"] + arguments


def hand_over(command, folder=None):
    """Become the command where the system can, else run it and pass its exit code on."""
    if folder:
        os.chdir(folder)
    sys.stdout.flush()
    if not WINDOWS:
        os.execve(command[0], command, child_env())
    return subprocess.call(command, env=child_env())


def main(arguments):
    """Do what the command line asks; the exit code."""
    if sys.version_info < OLDEST:
        raise SetupError(
            "rubrail needs Python 3.11 or newer and this is {}.{}; install a newer one and start go.py with "
            "it, for example: python3.12 go.py demo".format(*sys.version_info[:2])
        )
    command, rest = (arguments[0], arguments[1:]) if arguments else ("", [])
    entry = [PYTHON, "-c", entry_code()]
    if command == "demo":
        set_up("run")
        return hand_over(entry + ["demo"] + rest)
    if command == "run":
        set_up("run")
        return hand_over(entry + (rest[1:] if rest[:1] == ["--"] else rest))
    if command == "test":
        set_up("test")
        return hand_over([PYTHON, "-m", "pytest"] + test_arguments(rest), folder=ROOT)
    if command == "lint":
        set_up("test")
        os.chdir(ROOT)
        contracts = "from importlinter.cli import lint_imports_command as go; go()"
        checks = (["-m", "ruff", "check"] + rest, ["-c", contracts])
        return max([subprocess.call([PYTHON] + check, env=child_env()) for check in checks])
    if command in ("", "-h", "--help", "help"):
        sys.stdout.write(__doc__)
        return 0 if command else 2
    raise SetupError("There is no command {!r}; use demo, test, run or lint.".format(command))


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except SetupError as fault:
        sys.stderr.write("{}\n".format(fault))
        sys.exit(1)
    except KeyboardInterrupt:
        sys.stderr.write("\nStopped.\n")
        sys.exit(130)
    except EnvironmentError as fault:
        sys.stderr.write(
            "Set-up stopped: {} ({}); put that right and run the same command again.\n".format(
                fault.strerror or fault, fault.filename or ROOT
            )
        )
        sys.exit(1)
