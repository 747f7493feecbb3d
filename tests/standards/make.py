"""Makes every stored table of this folder again: runs each script and writes what it prints to
the .csv of the same name. With --check nothing is written: it tells what would change, and ends
with 1 if anything would.

    python3 -m venv /tmp/checks
    /tmp/checks/bin/pip install -r tests/standards/requirements.txt
    /tmp/checks/bin/python tests/standards/make.py [--check] [NAME...]

Libraries other than those of requirements.txt are refused, since last digits may differ.
"""
import os
import subprocess
import sys
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

HERE = Path(__file__).resolve().parent


def wrong_versions():
    """What is installed otherwise than requirements.txt wants it."""
    for line in (HERE / "requirements.txt").read_text().splitlines():
        name, _, wanted = line.partition("#")[0].strip().partition("==")
        if not name:
            continue
        try:
            found = version(name)
        except PackageNotFoundError:
            found = "nothing"
        if found != wanted:
            yield f"{name}: {found} is installed, {wanted} is wanted"


def made(script):
    """What a script prints, on one thread, so that sums are taken in one order."""
    one = {name: "1" for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")}
    run = subprocess.run(
        [sys.executable, script], env=os.environ | one, stdout=subprocess.PIPE, check=True
    )
    return run.stdout


def main():
    check = "--check" in sys.argv
    names = [word for word in sys.argv[1:] if word != "--check"]
    wrong = list(wrong_versions())
    if wrong:
        sys.exit("\n".join(wrong))
    scripts = sorted(path for path in HERE.glob("*.py") if path.name != "make.py")
    unknown = set(names) - {script.stem for script in scripts}
    if unknown:
        sys.exit(f"no script for {', '.join(sorted(unknown))}")
    changed = 0
    for script in scripts:
        if names and script.stem not in names:
            continue
        table = script.with_suffix(".csv")
        text = made(script)
        same = table.exists() and table.read_bytes() == text
        changed += not same
        print(f"{table.name}: {'as it was' if same else 'changed'}")
        if not check:
            table.write_bytes(text)
    sys.exit(1 if check and changed else 0)


if __name__ == "__main__":
    main()
