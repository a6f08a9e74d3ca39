import os
import subprocess
import sys

import pytest

PROGRAM = """
from triage.chat.lines import PlainLines
lines = PlainLines()
print(lines.read("", lambda: False), lines.read("", lambda: False), lines.read("", lambda: True), flush=True)
"""


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
def test_the_program_ends_cleanly_while_the_input_stays_open() -> None:
    reader, writer = os.pipe()
    os.write(writer, "Müller\r\n\xff\n".encode("latin-1"))
    try:
        told = subprocess.run(
            [sys.executable, "-c", PROGRAM], stdin=reader, capture_output=True, check=False, timeout=60
        )
    finally:
        os.close(reader)
        os.close(writer)
    assert told.stdout.decode("utf-8").split() == ["M�ller", "�", "None"]
    assert told.stderr == b""
    assert told.returncode == 0
