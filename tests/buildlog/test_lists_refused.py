"""Files that are no list, are cut short, or would do harm: each is refused with what to do."""

import io
import zipfile

import pytest
from defusedxml.common import EntitiesForbidden

from buildlog.lists.files import ListError
from buildlog.lists.reading import read_list
from tests.buildlog.list_files import refused, rezipped, workbook

# Refused


@pytest.mark.parametrize("name", ["a.csv", "a.xlsx"])
def test_file_when_empty_then_refused(name):
    assert "The file is empty" in refused(name, b"")


@pytest.mark.parametrize("content", [b"\n\n", b"  \r\n", b",,,\n"])
def test_file_when_nothing_but_empty_rows_then_refused(content):
    assert "nothing in the file but empty rows" in refused("a.csv", content)


def test_file_when_headings_only_then_refused():
    assert "no rows below them" in refused("a.csv", b"Number,Name\n")
    assert "no rows below them" in refused("a.xlsx", workbook(["Number", "Name"]))


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("a.xls", "an XLS workbook"),
        ("a.ods", "an ODS spreadsheet"),
        ("a.xlsm", "macros"),
        ("a.pdf", "ends in .pdf"),
        ("parts", "has no ending"),
        ("a.exe", "ends in .exe"),
    ],
)
def test_file_when_of_another_ending_then_refused_with_what_to_save_as(name, said):
    message = refused(name, b"Number,Name\nS-001,Flywheel\n")
    assert said in message
    assert "save as" in message


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"MZ\x90\x00\x03\x00\x00\x00\x04\x00\x00\x00\xff\xff", "a program"),
        (b"\x7fELF\x02\x01\x01\x00", "a program"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"PK\x03\x04 zipped", "an XLSX or another packed file"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a workbook of the old kind"),
    ],
)
def test_file_when_a_renamed_other_kind_then_refused_by_its_content(content, said):
    message = refused("parts.csv", content)
    assert f"what is in the file is {said}" in message


def test_file_when_a_renamed_program_is_called_xlsx_then_refused():
    assert "what is in the file is a program" in refused("parts.xlsx", b"MZ\x90\x00\x03\x00\x00\x00")


def test_file_when_text_is_called_xlsx_then_refused():
    assert "perhaps plain text" in refused("parts.xlsx", b"Number,Name\nS-001,Flywheel\n")


def test_file_when_noughts_among_text_then_refused():
    assert "bytes in the file that no text has" in refused("parts.csv", b"Number,Name\nS-001,Fly\x00wheel\n")


def test_csv_when_too_large_then_refused_before_it_is_read():
    assert "2.0 MB; a CSV may have 2 MB" in refused("a.csv", b"Number,Name\n" + b"x" * 2 * 1024 * 1024)


def test_xlsx_when_too_large_then_refused_before_it_is_opened():
    assert "an XLSX may have 5 MB" in refused("a.xlsx", b"PK\x03\x04" + b"x" * 5 * 1024 * 1024)


def test_xlsx_when_a_bomb_then_refused_without_unpacking(monkeypatch):
    bomb = rezipped(workbook(["Number", "Name"]), **{"xl/worksheets/sheet1.xml": b" " * 200 * 1024 * 1024})
    assert len(bomb) < 1024 * 1024
    monkeypatch.setattr(zipfile.ZipFile, "open", lambda *_, **__: pytest.fail("it was unpacked"))
    message = refused("a.xlsx", bomb)
    assert "would unpack to 200 MB" in message
    assert "not opened" in message


def test_xlsx_when_of_too_many_pieces_then_refused():
    pieces = {f"xl/x{n}.xml": b"" for n in range(600)}
    assert "pieces" in refused("a.xlsx", rezipped(workbook(["Number", "Name"]), **pieces))


def test_xlsx_when_entities_blow_up_then_refused():
    # The billion-laughs shape, which defusedxml is there to stop.
    entities = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 9))
    honest = workbook(["Number", "Name"], ["S-001", "Flywheel"])
    with zipfile.ZipFile(io.BytesIO(honest)) as archive:
        sheet = archive.read("xl/worksheets/sheet1.xml").decode()
    bomb = f'<!DOCTYPE worksheet [<!ENTITY l0 "ha">{entities}]>' + sheet.replace("Flywheel", "&l8;")
    assert "&l8;" in bomb
    with pytest.raises(ListError, match="cannot be read") as wrong:
        read_list("a.xlsx", rezipped(honest, **{"xl/worksheets/sheet1.xml": bomb.encode()}))
    reasons = [wrong.value.__cause__, wrong.value.__cause__ and wrong.value.__cause__.__cause__]
    assert any(isinstance(reason, EntitiesForbidden) for reason in reasons)


@pytest.mark.parametrize("part", [0.3, 0.6, 0.95])
def test_xlsx_when_cut_short_then_refused(part):
    whole = workbook(["Number", "Name"], ["S-001", "Flywheel"])
    assert "cut short or damaged" in refused("a.xlsx", whole[: int(len(whole) * part)])


def test_xlsx_when_its_sheet_is_cut_short_inside_then_refused():
    honest = workbook(["Number", "Name"], *(["S-001", "Flywheel"] for _ in range(50)))
    with zipfile.ZipFile(io.BytesIO(honest)) as archive:
        sheet = archive.read("xl/worksheets/sheet1.xml")
    cut = rezipped(honest, **{"xl/worksheets/sheet1.xml": sheet[: len(sheet) // 2]})
    assert "cannot be read" in refused("a.xlsx", cut)


def test_csv_when_cut_short_in_a_quoted_cell_then_refused():
    message = refused("a.csv", b'Number,Name,Notes\nS-001,Flywheel,ok\nS-003,Shaft,"made to su')
    assert "cut short" in message
    assert "in row 3" in message


def test_csv_when_cut_short_in_a_sign_then_refused():
    whole = "Number,Name\nS-001,Flywheel ½\nS-003,Shaft ½".encode()
    assert "ends in the middle of a sign" in refused("a.csv", whole[:-1])


def test_csv_when_utf_16_is_cut_short_then_refused():
    assert "cut short" in refused("a.csv", "Number,Name\nS-001,Fly".encode("utf-16")[:-1])


def test_csv_when_a_quoted_cell_goes_on_after_its_end_then_refused_with_the_row():
    assert "A cell in row 2 begins with a quotation mark" in refused(
        "a.csv", b'Number,Name\nS-001,"5/8" stud\n'
    )


def test_xlsx_when_locked_then_says_so():
    locked = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 500 + "EncryptedPackage".encode("utf-16-le")
    assert "locked by a password" in refused("a.xlsx", locked)


def test_xlsx_when_really_an_old_workbook_then_says_so():
    assert "an XLS workbook of the old kind" in refused(
        "a.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 99
    )


def test_xlsx_when_really_ods_or_another_zip_then_says_so():
    ods = io.BytesIO()
    with zipfile.ZipFile(ods, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", "<x/>")
    assert "an ODS spreadsheet" in refused("a.xlsx", ods.getvalue())
    other = io.BytesIO()
    with zipfile.ZipFile(other, "w") as archive:
        archive.writestr("word/document.xml", "<x/>")
    assert "no workbook in the file" in refused("a.xlsx", other.getvalue())


def test_xlsx_when_it_carries_macros_then_refused():
    assert "macros" in refused("a.xlsx", rezipped(workbook(["Number"]), **{"xl/vbaProject.bin": b"x"}))
