"""The command `shedbook`, from its first moment on; `python -m typeset` does the same."""

from __future__ import annotations

from .stopping import stopped

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
    finally:
        # All is said and written; only Python itself has yet to end.
        signal.signal(signal.SIGINT, signal.SIG_IGN)


if __name__ == "__main__":
    main()
