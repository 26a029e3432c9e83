"""Where commands print: results on standard output, messages on standard error; typed text is never taken for markup."""

from rich.console import Console

out = Console(highlight=False, markup=False)
err = Console(stderr=True, highlight=False, markup=False)
