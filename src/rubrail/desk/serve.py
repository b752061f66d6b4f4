"""Start the desk: prepare its data folder, bring the database up to date, collect static files, answer."""

from __future__ import annotations

import errno
import ipaddress
import os
import socket
import sys
import tempfile
import threading
import webbrowser
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from rubrail.desk.folders import data_folder, make_private

if TYPE_CHECKING:
    from rubrail.sheets.site.whole import SiteFile

LOOPBACK = "127.0.0.1"
EVERYWHERE = "0.0.0.0"
PORT = 8417
THREADS = 8
MAX_BODY = 600 * 1024 * 1024
Say = Callable[[str], None]

SAFELY = """\
Everyone on this network can now reach the sign-in page. To do it safely:
  - Speak plain http only on the yard's own network. What is typed can be read by others on it: use
    passwords that are used nowhere else, and no public or guests' Wi-Fi.
  - Never forward a port of the router to this machine. For use from outside, put a proxy that speaks
    https in front, start with RUBRAIL_HTTPS=yes, and name it in RUBRAIL_HOSTS.
  - Over plain http, phones take photos and keep forms, but give no camera page and no offline page."""


class ServeError(RuntimeError):
    """The desk cannot start; the message says why and what to do, in sentences."""


def serve(
    *,
    host: str | None = None,
    port: int = PORT,
    lan: bool = False,
    open_browser: bool = False,
    say: Say = print,
) -> None:
    """Serve the desk until it is stopped.

    Parameters
    ----------
    host : str, optional
        Address to listen on; the loopback by default, every one with ``lan``.
    port : int
        Port; 0 takes a free one.
    lan : bool
        Listen on the local network as well, and say how to do so safely.
    open_browser : bool
        Open the desk in the browser of this machine.
    say : callable
        Where sentences for the person at the terminal go.

    Raises
    ------
    ServeError
        If an option is not accepted, the port is taken or the database cannot be reached.
    """
    host = host or (EVERYWHERE if lan else LOOPBACK)
    beyond = not _is_loopback(host)
    _settle_hosts(host=host, beyond=beyond)
    prepare(say=say)
    server = _listen(host=host, port=port)
    url = f"http://{_shown(host)}:{server.effective_port}/"
    _tell(url=url, beyond=beyond, port=server.effective_port, say=say)
    if open_browser:
        threading.Timer(0.3, webbrowser.open, (url,)).start()
    try:
        server.run()
    except KeyboardInterrupt:
        pass
    finally:
        server.close()


def demo(*, port: int = PORT, open_browser: bool = True, fresh: bool = False, say: Say = print) -> None:
    """Serve the invented yard on the loopback, in a folder of its own, until stopped.

    Parameters
    ----------
    port : int
        Port; 0 takes a free one.
    open_browser : bool
        Open it in the browser of this machine.
    fresh : bool
        Begin the invented yard anew, dropping what was changed in it.
    say : callable
        Where sentences for the person at the terminal go.

    Raises
    ------
    ServeError
        As for ``serve``.
    """
    folder = data_folder() / "demo"
    if fresh:
        _forget(folder)
    os.environ["RUBRAIL_HOME"] = str(folder)
    os.environ["RUBRAIL_DEMO"] = "yes"
    # The invented yard never goes into the database that a real yard set.
    os.environ.pop("RUBRAIL_DATABASE_URL", None)
    _settle_hosts(host=LOOPBACK, beyond=False)
    prepare(say=say)
    from rubrail.desk.demo_yard import load_demo

    load_demo(say=say)
    serve(port=port, open_browser=open_browser, say=say)


def prepare(*, say: Say = print) -> None:
    """Make the data folder, set Django up, bring the database up to date and collect static files.

    Raises
    ------
    ServeError
        If any of it cannot be done.
    """
    os.umask(0o077)
    try:
        make_private(data_folder())
    except OSError as fault:
        raise ServeError(
            f"The data folder {data_folder()} cannot be made ({fault.strerror}). "
            "Name another one in RUBRAIL_HOME, or make it writable."
        ) from fault
    set_up()
    from rubrail.desk.derived import refill
    from rubrail.desk.upkeep import StartError, migrate, static_files

    try:
        migrate(say=say)
        refill(say=say)
        static_files()
    except StartError as fault:
        raise ServeError(str(fault)) from fault


def public_files(*, address: str, into: Callable[[Iterable[SiteFile]], None], say: Say = print) -> None:
    """Hand over the files of the public pages; nothing where nobody says where buyers will find them.

    Parameters
    ----------
    address : str
        Where they will be found; empty for what the options say.
    into : callable
        Takes the files.
    say : callable
        Where sentences for the person at the terminal go.

    Raises
    ------
    ServeError
        As for ``prepare``.
    """
    prepare(say=say)
    from django.conf import settings

    from rubrail.desk import clock
    from rubrail.desk.public.site import site_on

    if address := address or settings.RUBRAIL_PUBLIC_ADDRESS:
        into(site_on(clock.today(), address=address).files())


def set_up() -> None:
    """Load Django with the desk's settings.

    Raises
    ------
    ServeError
        If an option or the database's URL is not accepted.
    """
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rubrail.desk.settings")
    import django

    from rubrail.desk.database import DatabaseUrlError
    from rubrail.desk.options import OptionError

    try:
        django.setup()
    except (OptionError, DatabaseUrlError) as fault:
        raise ServeError(str(fault)) from fault


def _settle_hosts(*, host: str, beyond: bool) -> None:
    """Say to the settings which names this machine is called by, before they are read."""
    given = os.environ.get("RUBRAIL_HOSTS", "")
    names = [n for n in given.replace(" ", "").split(",") if n]
    if beyond:
        own = socket.gethostname().lower()
        names += [own, own if own.endswith(".local") else f"{own}.local", *lan_addresses()]
        names += [host] if host not in (EVERYWHERE, "::") else []
    if names:
        os.environ["RUBRAIL_HOSTS"] = ",".join(dict.fromkeys(names))


def lan_addresses() -> list[str]:
    """This machine's addresses on its networks; finding them sends nothing."""
    found: list[str] = []
    for family, far in ((socket.AF_INET, "192.0.2.1"), (socket.AF_INET6, "2001:db8::1")):
        try:
            with socket.socket(family, socket.SOCK_DGRAM) as probe:
                probe.connect((far, 9))
                address = probe.getsockname()[0]
        except OSError:
            continue
        if not ipaddress.ip_address(address).is_loopback:
            found.append(f"[{address}]" if family == socket.AF_INET6 else address)
    return found


def _listen(*, host: str, port: int):
    from waitress import create_server

    from rubrail.desk.wsgi import application

    trusted = {}
    if os.environ.get("RUBRAIL_HTTPS", "no").lower() in ("1", "true", "yes", "on"):
        trusted = {
            "trusted_proxy": LOOPBACK,
            "trusted_proxy_count": 1,
            "trusted_proxy_headers": "x-forwarded-for x-forwarded-proto x-forwarded-host",
            "clear_untrusted_proxy_headers": True,
        }
    try:
        return create_server(
            application,
            host=host,
            port=port,
            threads=THREADS,
            ident="",
            max_request_body_size=MAX_BODY,
            channel_timeout=60,
            **trusted,
        )
    except OSError as fault:
        if fault.errno in (errno.EADDRINUSE, getattr(errno, "WSAEADDRINUSE", errno.EADDRINUSE)):
            why = f"Port {port} is taken, perhaps by a desk that already runs. Stop that one, or give another --port."
        elif fault.errno == errno.EACCES:
            why = f"Port {port} may not be used by you. Give a --port above 1023."
        else:
            why = f"Nothing can listen on {host} ({fault.strerror or fault}). Give an address of this machine."
        raise ServeError(why) from fault


def _tell(*, url: str, beyond: bool, port: int, say: Say) -> None:
    say(f"The desk is at {url}   Stop it with Ctrl-C.")
    say(f"Its data is in {data_folder()}")
    if beyond:
        for address in lan_addresses():
            say(f"On this network: http://{address}:{port}/")
        say(SAFELY)


def _shown(host: str) -> str:
    if host in (EVERYWHERE, "::"):
        return LOOPBACK
    return f"[{host}]" if ":" in host else host


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False


def _forget(folder: Path) -> None:
    """Set an old invented yard aside; only what we made is removed."""
    import shutil

    if (folder / "desk.sqlite3").exists():
        aside = Path(tempfile.mkdtemp(prefix="demo-", dir=folder.parent))
        folder.replace(aside / "old")
        shutil.rmtree(aside, ignore_errors=True)


if __name__ == "__main__":
    try:
        serve(port=int(sys.argv[1]) if len(sys.argv) > 1 else PORT)
    except ServeError as error:
        sys.exit(str(error))
