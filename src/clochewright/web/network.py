"""This machine on its network: the address a phone can reach it at, and the names it goes by."""

from __future__ import annotations

import contextlib
import socket


def own_address() -> str:
    """The address of this machine on its network; 127.0.0.1 where it is on none."""
    # Connecting a datagram socket sends nothing: the system only picks the address it would send from.
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(("192.0.2.1", 9))  # set aside for documentation (RFC 5737), so it is nobody's
        return str(probe.getsockname()[0])
    return "127.0.0.1"


def own_names() -> tuple[str, ...]:
    """What this machine may be called by phones on its network."""
    name = socket.gethostname().casefold()
    return tuple(dict.fromkeys((own_address(), name, f"{name}.local")))
