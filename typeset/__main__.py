"""The command `shedbook`, from its first moment on; `python -m typeset` does the same."""

from __future__ import annotations

from .stopping import ended, stopped

try:
    import signal
except KeyboardInterrupt:
    stopped()


def main() -> None:
    """Run the command; Ctrl-C ends it with one line, also while it is imported.

    There it would come as the traceback of a library, or be swallowed by one. Where it is not heard, as in what a
    shell runs in the background, that stays so.
    """
    hears = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if hears:
        signal.signal(signal.SIGINT, stopped)
    from .cli import main as run

    try:
        if hears:
            signal.signal(signal.SIGINT, signal.default_int_handler)
        run()
    except KeyboardInterrupt:
        stopped()
    except SystemExit as end:
        # What is left to do is to say what was said; nothing is stopped by a Ctrl-C that comes now.
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        ended(end.code if isinstance(end.code, int) else int(end.code is not None))


if __name__ == "__main__":
    main()
