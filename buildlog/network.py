"""The machine's own names and addresses, and a socket to listen on."""

import contextlib
import ipaddress
import socket
import struct
import sys

LOCAL = "127.0.0.1"
EVERYWHERE = "0.0.0.0"
#: An address of a block kept for documents: choosing the way to it sends nothing.
FAR_AWAY = ("192.0.2.1", 9)


class PortError(Exception):
    """The port cannot be had; the message is the line to print."""


def listen(host: str, port: int) -> socket.socket:
    """A socket bound to the port, or a PortError that says why not."""
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    # On Windows the option of the same name would let two programs share the port.
    exclusive = getattr(socket, "SO_EXCLUSIVEADDRUSE", None)
    listener.setsockopt(socket.SOL_SOCKET, exclusive or socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        listener.listen(64)
    except OSError as error:
        listener.close()
        raise PortError(_refusal(port, error)) from error
    return listener


def _refusal(port: int, error: OSError) -> str:
    if isinstance(error, PermissionError):
        return f"Port {port} is not allowed for you; choose one of 1024 or above: start --port 8000"
    return (
        f"Port {port} is busy: another program, perhaps Hornplate itself, is using it. "
        f"Stop that one, or choose another port: start --port {port + 1 if port < 65535 else 8000}"
    )


def own_addresses() -> list[str]:
    """The machine's IPv4 addresses that others can reach, the one it goes out by first."""
    found = [_outward_address(), *_addresses_of_name(), *_addresses_of_cards()]
    return [address for address in dict.fromkeys(found) if address and _is_reachable(address)]


def own_names() -> list[str]:
    """The machine's name, and that name as it is known on a home network."""
    name = socket.gethostname().lower().rstrip(".")
    if not name or name == "localhost":
        return []
    return [name] if "." in name else [name, f"{name}.local"]


def _is_reachable(text: str) -> bool:
    try:
        address = ipaddress.IPv4Address(text)
    except ValueError:
        return False
    return not (address.is_loopback or address.is_unspecified or address.is_link_local)


def _outward_address() -> str:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, contextlib.suppress(OSError):
        probe.connect(FAR_AWAY)
        return str(probe.getsockname()[0])
    return ""


def _addresses_of_name() -> list[str]:
    with contextlib.suppress(OSError):
        return socket.gethostbyname_ex(socket.gethostname())[2]
    return []


def _addresses_of_cards() -> list[str]:
    """Linux tells the address of each network card; elsewhere the other two ways must do."""
    if sys.platform != "linux":
        return []
    import fcntl

    get_address = 0x8915
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        for _, name in socket.if_nameindex():
            with contextlib.suppress(OSError):
                answer = fcntl.ioctl(probe.fileno(), get_address, struct.pack("256s", name.encode()[:15]))
                found.append(socket.inet_ntoa(answer[20:24]))
    return found
