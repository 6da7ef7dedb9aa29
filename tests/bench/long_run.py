"""The tests of faults and of edited files at length: every change of the disk, every pair of commands, many more edits.

Run as `python tests/bench/long_run.py [EXAMPLES]`; with 300 examples it takes some hours. What fails is printed by pytest;
its edits go into `tests/whole/test_edited_files.py` as an example.
"""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TESTS = ("tests/whole/test_disk_faults.py", "tests/whole/test_edited_files.py")


def main() -> int:
    examples = sys.argv[1] if len(sys.argv) > 1 else "300"
    more = {"DOCGEN_MOMENTS": "1000", "DOCGEN_ALL_PAIRS": "1", "DOCGEN_EXAMPLES": examples}
    command = [sys.executable, "-m", "pytest", "-q", *TESTS]
    return subprocess.run(command, cwd=ROOT, env={**os.environ, **more}, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
