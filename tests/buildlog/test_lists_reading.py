"""Files read into rows: encodings, separators, dates, and everything that is refused."""

import io
import zipfile
from datetime import date, datetime

import pytest
from openpyxl import Workbook

from buildlog.lists.columns import KEYS, read_headings
from buildlog.lists.dates import made_date
from buildlog.lists.reading import ROW_LIMIT, ReadList, read_list
from tests.buildlog.list_files import HEAD, read_text, refused, rezipped, workbook

# Encodings and separators


@pytest.mark.parametrize(
    ("encoding", "said"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8"),
        ("utf-16", "UTF-16"),
        ("cp1252", "Windows-1252"),
        ("utf-32", "UTF-32"),
    ],
)
def test_encoding_when_usual_then_read_and_said(encoding, said):
    read = read_text(HEAD + "S-001,Flywheel – 18″ café,18 in\r\n".replace("″", "”"), encoding)
    assert read.rows[0].cells["name"] == "Flywheel – 18” café"
    assert read.how == f"read as {said}, separated by commas, 1 row"


def test_encoding_when_big_endian_utf_16_then_read():
    read = read_list("parts.csv", b"\xfe\xff" + (HEAD + "S-001,Motion ½,1/2 in\n").encode("utf-16-be"))
    assert read.rows[0].cells["name"] == "Motion ½"


def test_windows_1252_when_decoded_then_agrees_with_python():
    # Reference: Python's own cp1252 codec, for every byte it has a sign for.
    known = [byte for byte in range(0x80, 0x100) if byte not in (0x81, 0x8D, 0x8F, 0x90, 0x9D)]
    name = bytes(known).decode("cp1252")
    read = read_list("parts.csv", b"Number,Name\nS-001,x" + bytes(known) + b"x\n")
    assert read.rows[0].cells["name"] == f"x{name}x"


def test_windows_1252_when_a_byte_has_no_sign_then_remarked():
    read = read_list("parts.csv", b"Number,Name\nS-001,caf\xe9 \x81\n")
    assert "Windows-1252" in read.how
    assert any("stand for no sign" in remark for remark in read.remarks)


@pytest.mark.parametrize(
    ("sign", "word"), [(",", "commas"), (";", "semicolons"), ("\t", "tabs"), ("|", "upright strokes")]
)
def test_separator_when_usual_then_found_and_said(sign, word):
    text = (
        sign.join(["No.", "Description", "Qty"])
        + "\n"
        + sign.join(["S-001", '"Wheel, 57 T; 8 DP | cast\tiron"', "1"])
    )
    read = read_text(text)
    assert read.columns == ("number", "name", "quantity")
    assert read.rows[0].cells["name"] == "Wheel, 57 T; 8 DP | cast\tiron"
    assert f"separated by {word}" in read.how


def test_separator_when_told_on_the_first_line_then_followed():
    read = read_text("sep=;\r\nNumber;Name\r\nS-001;Flywheel\r\n")
    assert (read.rows[0].line, read.rows[0].cells["name"]) == (3, "Flywheel")


def test_quoting_when_as_the_standard_prints_it_then_read_so():
    # RFC 4180, section 2, rules 5 to 7: its own examples, under our headings.
    text = 'Number,Name,Notes\r\n"aaa","b \r\nbb","ccc"\r\nzzz,yyy,xxx\r\n"aaa","b""bb","ccc"\r\n'
    rows = read_text(text).rows
    assert [row.cells["name"] for row in rows] == ["b \r\nbb", "yyy", 'b"bb']
    assert [row.line for row in rows] == [2, 3, 4]


def test_quotation_mark_inside_an_unquoted_cell_then_it_is_inches():
    assert read_text(HEAD + 'ST-012,Stud,5/8" long\n').rows[0].cells["leading size"] == '5/8" long'


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_line_ends_when_of_any_system_then_rows_the_same(ending):
    read = read_text(ending.join(["Number,Name", "S-001,Flywheel", "", "S-003,Second shaft"]))
    assert [(row.line, row.cells["number"]) for row in read.rows] == [(2, "S-001"), (4, "S-003")]


def test_text_written_as_a_formula_when_read_then_is_the_text():
    assert read_text('Number,Name,Sheet\nS-001,Flywheel,"=""007"""\n').rows[0].cells["sheet"] == "007"


# Headings


@pytest.mark.parametrize(
    ("heading", "key"),
    [
        ("PART NO.", "number"),
        ("Part_Number", "number"),
        ("No. off", "quantity"),
        ("Off", "quantity"),
        ("Made of", "material"),
        ("SIZE", "leading size"),
        ("leading_size", "leading size"),
        ("Drawing", "sheet"),
        ("Casting No.", "casting number"),
        ("L/R", "hand"),
        ("Used in", "assembly"),
        ("Remarks", "notes"),
    ],
)
def test_heading_when_a_trade_word_then_known(heading, key):
    assert read_headings([heading]).places == {0: key}


def test_headings_when_ours_in_any_order_then_all_found():
    found = read_headings([key.upper() for key in reversed(KEYS)])
    assert sorted(found.keys) == sorted(KEYS)
    assert found.aside == ()


def test_headings_when_unknown_then_named_as_left_aside():
    read = read_text("Number,Price,Name,Colour\nS-001,4.50,Flywheel,red\n")
    assert read.aside == ("Price", "Colour")
    assert read.rows[0].cells == {"number": "S-001", "name": "Flywheel"}


def test_headings_when_rows_stand_above_then_skipped_and_said():
    read = read_text("Marlpit parts list,,\n,,\nNumber,Name,Off\nS-001,Flywheel,1\n")
    assert read.rows[0].line == 4
    assert read.remarks == ("1 row above the headings left aside",)


def test_headings_when_two_mean_the_same_then_refused():
    assert "“Qty” and “No. off” both mean quantity" in refused("a.csv", b"Number,Qty,No. off\nS-001,1,1\n")


def test_headings_when_none_means_number_then_refused_with_what_was_read():
    message = refused("a.csv", b"Colour,Price\nred,4\n")
    assert "No column is headed number" in message
    assert "“Colour”, “Price”" in message


# Rows


def test_row_when_too_short_then_wrong_and_named():
    row = read_text(HEAD + "S-001,Fly\n").rows[0]
    assert "2 of 3 cells" in row.fault


def test_row_when_too_long_then_wrong_and_named():
    assert "4 cells under 3 headings" in read_text(HEAD + "S-001,Wheel, 57 T,7 in\n").rows[0].fault


def test_row_when_longer_by_empty_cells_then_right():
    assert read_text(HEAD + "S-001,Flywheel,18 in,,\n").rows[0].fault == ""


def test_cell_when_past_the_limit_then_row_wrong():
    row = read_text("Number,Name,Notes\nS-001,Flywheel," + "x" * 2001 + "\n").rows[0]
    assert "Column notes: 2,001 signs" in row.fault


def test_rows_when_at_the_limit_then_read():
    read = read_text("Number,Name\n" + "".join(f"S-{n},Part\n" for n in range(ROW_LIMIT)))
    assert len(read.rows) == 5_000


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_rows_when_one_past_the_limit_then_refused(kind):
    rows = [["Number", "Name"], *(["S-1", "Part"] for _ in range(5_001))]
    content = workbook(*rows) if kind == "xlsx" else "\n".join(",".join(row) for row in rows).encode()
    assert "more than 5,000 rows" in refused(f"a.{kind}", content)


def test_columns_when_forty_one_then_refused():
    headings = ",".join(["Number", *(f"x{n}" for n in range(40))])
    assert "41 columns; at most 40" in refused("a.csv", f"{headings}\n1\n".encode())


# Workbooks


def test_workbook_when_read_then_sheet_and_rows_said():
    read = read_list("a.xlsx", workbook(["Number", "Name"], ["S-001", "Flywheel"], Prices=[["x"]]))
    assert read.how == "read as XLSX, sheet “Parts”, 1 row"
    assert read.remarks == ("1 more sheet in the workbook not read",)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (2, "2"),
        (2.0, "2"),
        (0.1 + 0.2, "0.3"),
        (7.375, "7.375"),
        ("=1+1 is text", "=1+1 is text"),
        (None, ""),
        (date(2026, 3, 16), "2026-03-16"),
        (datetime.fromisoformat("2026-03-16"), "2026-03-16"),
        (1e-7, "0.0000001"),
    ],
)
def test_workbook_cell_when_read_then_as_it_is_shown(value, text):
    book = Workbook()
    book.active.append(["Number", "Leading size"])
    book.active.append(["S-001", None])
    cell = book.active["B2"]
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
    content = io.BytesIO()
    book.save(content)
    assert read_list("a.xlsx", content.getvalue()).rows[0].cells["leading size"] == text


def test_workbook_number_when_shown_with_leading_noughts_then_kept_so():
    book = Workbook()
    book.active.append(["Number", "Sheet"])
    book.active.append(["S-001", 7])
    book.active["B2"].number_format = "000"
    content = io.BytesIO()
    book.save(content)
    assert read_list("a.xlsx", content.getvalue()).rows[0].cells["sheet"] == "007"


def test_workbook_row_when_short_then_its_last_cells_are_empty():
    row = read_list("a.xlsx", workbook(["Number", "Name", "Notes"], ["S-001", "Flywheel"])).rows[0]
    assert (row.cells["notes"], row.fault) == ("", "")


def test_workbook_when_first_sheet_is_hidden_then_the_next_is_read():
    book = Workbook()
    book.active.sheet_state = "hidden"
    shown = book.create_sheet("List")
    shown.append(["Number", "Name"])
    shown.append(["S-001", "Flywheel"])
    content = io.BytesIO()
    book.save(content)
    assert "sheet “List”" in read_list("a.xlsx", content.getvalue()).how


def test_workbook_when_it_lies_about_its_size_then_read_all_the_same():
    honest = workbook(["Number", "Name"], ["S-001", "Flywheel"])
    with zipfile.ZipFile(io.BytesIO(honest)) as archive:
        sheet = archive.read("xl/worksheets/sheet1.xml")
    lying = sheet.replace(b'<dimension ref="A1:B2"', b'<dimension ref="A1:XFD1048576"')
    assert lying != sheet
    assert len(read_list("a.xlsx", rezipped(honest, **{"xl/worksheets/sheet1.xml": lying})).rows) == 1


# Dates made of sizes. How spreadsheets show and store them: common practice, no source.


@pytest.mark.parametrize(
    ("text", "said", "typed"),
    [
        ("16-Mar", "16 March", "3/16"),
        ("Mar-16", "Mar-16", "3/16"),
        ("Mar-32", "Mar-32", "3/32"),
        ("03/16/2026", "16 March", "3/16"),
        ("16/03/2026", "16 March", "3/16"),
        ("2026-03-16", "16 March", "3/16"),
        ("2026-03-16 00:00:00", "16 March", "3/16"),
        ("2016-03-01", "1 March", "3/16"),
        ("2026-08-03", "3 August", "3/8"),
        ("2026-03-08", "8 March", "3/8"),
        ("01-Feb", "1 February", "1/2"),
        ("2-Jan", "2 January", "1/2"),
        ("2032-05-01", "1 May", "5/32"),
        ("1964-05-01", "1 May", "5/64"),
        ("5 July 2026", "5 July", ""),
    ],
)
def test_date_when_a_spreadsheet_made_it_then_recognised_and_guessed(text, said, typed):
    made = made_date(text)
    assert made is not None
    assert (made.said, made.typed) == (said, typed)


@pytest.mark.parametrize(
    "text",
    [
        "3/16",
        "3/16 in",
        "1 3/16",
        "1-3/16",
        "1.1/4",
        "36 T, 8 DP",
        "12 B",
        "MAR-16",
        "S-016",
        "16",
        "H-021-L",
        "",
        "Marlpit 16",
        "13-13-2026",
        "45-12-03",
        "0.1875",
        "K-012",
        "1/2/3",
    ],
)
def test_date_when_a_builder_means_a_size_or_number_then_left_in_peace(text):
    assert made_date(text) is None


def test_date_reason_when_given_then_says_what_to_do():
    made = made_date("2026-03-16")
    assert made is not None
    assert made.reason == (
        "this reads 16 March, a spreadsheet has made a date of 3/16. "
        "Set the column to text and type it again."
    )


def test_draft_when_kept_and_read_back_then_the_same_list():
    read = read_text("Number,Name,Price\nS-001,Flywheel,4\nS-003,Sha\n")
    assert ReadList.from_json(read.how, read.as_json()).rows == read.rows
