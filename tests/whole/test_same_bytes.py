"""The same spec and day give the same bytes, in any process; the day comes from --date or SOURCE_DATE_EPOCH."""

import hashlib
import os
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime

from demos import FILES
from pypdf import PdfReader

from docgen.cli import main
from docgen.pages import choices_of, lay_out
from docgen.write import finish_documents, replace_files


def digests(folder):
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.glob("*.pdf"))}


def run_make(spec, folder, *options, **environment):
    """docgen make in a process of its own."""
    kept = {name: value for name, value in os.environ.items() if name != "SOURCE_DATE_EPOCH"}
    return subprocess.run(
        [sys.executable, "-m", "docgen", "make", str(spec), "--out", str(folder), *options],
        env={**kept, **environment},
        capture_output=True,
        text=True,
        timeout=120,
    )


def test_written_twice_in_one_process_the_files_are_the_same(bag, tmp_path):
    replace_files(tmp_path, finish_documents(bag.packet))
    assert sorted(digests(tmp_path)) == sorted(f"{name}.pdf" for name in (*FILES, "shop-page"))
    assert digests(tmp_path) == digests(bag.folder)


def test_other_processes_write_the_same_bytes_whatever_their_hash_seed(bag, tmp_path):
    for seed in ("1", "4242"):
        made = run_make(
            bag.spec, tmp_path / seed, "--paper", "letter", "--date", "2026-03-31", PYTHONHASHSEED=seed, TZ="Asia/Tokyo"
        )
        assert made.returncode == 0, made.stderr
    choices = replace(choices_of(bag.plan.build.printing), paper="letter")
    here = lay_out(bag.plan, choices=choices, date="2026-03-31", is_draft=True)
    replace_files(tmp_path / "here", finish_documents(here))
    assert digests(tmp_path / "1") == digests(tmp_path / "4242") == digests(tmp_path / "here")


def test_source_date_epoch_is_the_day_in_any_time_zone(make, tmp_path):
    # 2026-03-31 12:00 UTC: the next day in the one zone, one o'clock at night in the other.
    noon = str(int(datetime(2026, 3, 31, 12, tzinfo=UTC).timestamp()))
    spec = make("notebook-sleeve", "a4").spec
    options = {"plain": ("--date", "2026-03-31"), "Pacific/Kiritimati": (), "Pacific/Pago_Pago": ()}
    for zone, option in options.items():
        folder = tmp_path / zone.replace("/", "-")
        made = run_make(spec, folder, "--only", "cutting-list", *option, SOURCE_DATE_EPOCH=noon, TZ=zone)
        assert made.returncode == 0, made.stderr
    found = {file.read_bytes() for file in tmp_path.glob("*/cutting-list.pdf")}
    assert len(found) == 1
    assert "2026-03-31" in PdfReader(tmp_path / "plain" / "cutting-list.pdf").pages[0].extract_text()


def test_date_of_the_call_is_printed_and_goes_before_source_date_epoch(make, tmp_path, monkeypatch):
    demo = make("notebook-sleeve", "a4")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "0")
    call = ["make", str(demo.spec), "--out", str(tmp_path), "--only", "cutting-list", "--date", "2031-07-04"]
    assert main(call) == 0
    reader = PdfReader(tmp_path / "cutting-list.pdf")
    assert "2031-07-04" in reader.pages[0].extract_text()
    assert reader.metadata["/CreationDate"] == "D:20310704000000Z"
    assert digests(tmp_path)["cutting-list.pdf"] != digests(demo.folder)["cutting-list.pdf"]


def test_one_changed_letter_of_the_spec_changes_every_file(make, tmp_path):
    demo = make("notebook-sleeve", "a4")
    spec = tmp_path / demo.spec.name
    spec.write_bytes(demo.spec.read_bytes().replace(b"# A flat", b"# a flat"))
    call = ["make", str(spec), "--out", str(tmp_path / "out"), "--paper", "a4", "--date", "2026-03-31"]
    assert main(call) == 0
    assert not set(digests(tmp_path / "out").values()) & set(digests(demo.folder).values())
