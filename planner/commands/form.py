"""`form`: the browser form, served on this machine only."""

import argparse
import errno
import importlib.util
import os
import runpy
import socket
import sys
from pathlib import Path

from planner.commands.exit_status import ExitStatus
from planner.errors import WrongUsage
from planner.projects.location import ENVIRONMENT, projects_folder
from planner.tables.layout import printable

ADDRESS = "127.0.0.1"
DEFAULT_PORT = 8501
_LARGEST_UPLOAD_MB = 20


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares what the command takes."""
    parser.add_argument(
        "--port", metavar="N", type=_port, default=DEFAULT_PORT, help=f"port to serve on (default: {DEFAULT_PORT})"
    )
    parser.add_argument(
        "--projects", metavar="DIR", type=Path, help="folder that keeps the projects (default: one in your home)"
    )


def run(arguments: argparse.Namespace) -> ExitStatus:
    """Serves the form until it is stopped. Raises WrongUsage where it cannot start."""
    app = _app()
    _refuse_taken(arguments.port)
    if arguments.projects is not None:
        os.environ[ENVIRONMENT] = str(arguments.projects.resolve())
    print(f"The form is at http://{ADDRESS}:{arguments.port} (this machine only). Ctrl-C stops it.", flush=True)
    print(f"Projects are kept in {printable(str(projects_folder()))}.", flush=True)
    # In this process, so that a stop reaches the server. The settings are repeated here since
    # Streamlit reads its file from the current folder only.
    sys.argv = [
        "streamlit", "run", str(app),
        f"--server.address={ADDRESS}",
        f"--server.port={arguments.port}",
        "--server.headless=true",
        "--server.fileWatcherType=none",
        f"--server.maxUploadSize={_LARGEST_UPLOAD_MB}",
        "--browser.gatherUsageStats=false",
        "--client.toolbarMode=minimal",
        "--logger.level=warning",
    ]  # fmt: skip
    try:
        runpy.run_module("streamlit", run_name="__main__")
    except SystemExit as stop:
        if stop.code:
            raise WrongUsage("the form's server could not start; its own message is above.") from stop
    return ExitStatus.ANSWERED


def _app() -> Path:
    """The form's script. Raises WrongUsage where a part of it is not installed."""
    if importlib.util.find_spec("streamlit") is None:
        raise WrongUsage("the form needs Streamlit, which is not installed. Install it: pip install -e .")
    spec = importlib.util.find_spec("ui")
    folders = list(spec.submodule_search_locations or ()) if spec is not None else []
    for folder in folders:
        app = Path(folder) / "app.py"
        if app.is_file():
            return app
    raise WrongUsage("the form's files (ui/app.py) are not installed. Install the whole project: pip install -e .")


def _refuse_taken(port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((ADDRESS, port))
        except OSError as error:
            reason = "is in use" if error.errno == errno.EADDRINUSE else "cannot be used"
            raise WrongUsage(f"port {port} {reason}. Choose another with --port N.") from error


def _port(text: str) -> int:
    if text.isascii() and text.isdigit() and 1 <= int(text) <= 65535:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is not a port from 1 to 65535")
