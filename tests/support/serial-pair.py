# Holds the far end of a pseudo-terminal for a test: orders on stdin, one a line; what happened on stdout, one a line.
import os
import select
import sys
import termios
import time
import tty


def say(*words):
    sys.stdout.write(" ".join(words) + "\n")
    sys.stdout.flush()


def plug(link):
    """Opens a pair, puts the near end behind a stable name, and keeps only the far end: it is then the one that unplugs."""
    far, near = os.openpty()
    tty.setraw(near, termios.TCSANOW)
    path = os.ttyname(near)
    os.close(near)
    os.set_blocking(far, False)
    fresh = link + ".new"
    os.symlink(path, fresh)
    os.replace(fresh, link)
    return far


def unplug(far, link):
    if os.path.islink(link):
        os.unlink(link)
    os.close(far)


def write_all(far, data):
    """Waits for the reader where the line is full, as a board's own transmit buffer would. Nothing is sent of nothing, or where nothing is plugged in."""
    if not data or far is None:
        return
    poll = select.poll()
    poll.register(far, select.POLLOUT)
    while data:
        poll.poll()
        try:
            data = data[os.write(far, data):]
        except BlockingIOError:
            time.sleep(0.002)


def play_file(far, path, per_second):
    """Sends a file's lines at an even pace, a few at a time, and never faster than asked."""
    with open(path, "rb") as source:
        lines = source.readlines()
    began = time.monotonic()
    sent = 0
    while sent < len(lines):
        due = min(len(lines), int((time.monotonic() - began) * per_second) + 1)
        if due > sent:
            write_all(far, b"".join(lines[sent:due]))
            sent = due
        time.sleep(0.002)


def read_some(far):
    """What the program sent, or nothing: with no reader at the near end a read fails, which is no trouble here."""
    try:
        return os.read(far, 4096)
    except (BlockingIOError, OSError):
        return b""


def obey(order, far, link):
    word, _, rest = order.partition(" ")
    if word == "plug":
        far = plug(link)
    elif word == "unplug":
        unplug(far, link)
        far = None
    elif word == "write":
        write_all(far, bytes.fromhex(rest))
    elif word == "play":
        every, *lines = rest.split(" ")
        for line in lines:
            write_all(far, bytes.fromhex(line))
            time.sleep(int(every) / 1000)
    elif word == "play-file":
        per_second, path = rest.split(" ", 1)
        play_file(far, path, int(per_second))
    elif word == "write-file":
        with open(rest, "rb") as source:
            write_all(far, memoryview(source.read()))
    elif word == "write-unplug":
        write_all(far, bytes.fromhex(rest))
        unplug(far, link)
        far = None
    say("done", word)
    return far


def serve(link):
    far = None
    pending = b""
    while True:
        ready, _, _ = select.select([0], [], [], 0.01 if far is not None else None)
        if far is not None:
            sent = read_some(far)
            if sent:
                say("sent", sent.hex())
        if ready:
            got = os.read(0, 65536)
            if not got:
                return
            *orders, pending = (pending + got).split(b"\n")
            for order in orders:
                far = obey(order.decode("ascii"), far, link)


serve(sys.argv[1])
