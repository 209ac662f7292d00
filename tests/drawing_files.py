"""PDFs as programs, scanners and mischief make them: by reportlab, and by hand after ISO 32000-1, 7.5."""

import io
from itertools import count

from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen.canvas import Canvas

_number = count(1)
#: A3 lying, in points.
A3 = (1190.55, 841.89)


def pdf(pages: int = 1, size: tuple[float, float] = A3, *, password: str = "") -> bytes:
    """A drawing: a frame and a black square in the upper left quarter; no two are the same."""
    written = io.BytesIO()
    locked = StandardEncryption(password, ownerPassword="of the draughtsman") if password else None
    canvas = Canvas(written, pagesize=size, encrypt=locked, invariant=1)
    width, height = size
    for page in range(1, pages + 1):
        canvas.rect(20, 20, width - 40, height - 40)
        canvas.rect(width / 4 - 50, height * 3 / 4 - 50, 100, 100, fill=1)
        canvas.drawString(40, 40, f"Sheet {next(_number)} page {page}")
        canvas.showPage()
    canvas.save()
    return written.getvalue()


def raw_pdf(*, box: str = "0 0 600 400", pages: str = "1", content: str = "") -> bytes:
    """A PDF of one page, which may claim any size of page and any count."""
    stream = content.encode()
    bodies = [
        b"<</Type/Catalog/Pages 2 0 R>>",
        f"<</Type/Pages/Kids[3 0 R]/Count {pages}>>".encode(),
        f"<</Type/Page/Parent 2 0 R/MediaBox[{box}]/Contents 4 0 R>>".encode(),
        b"<</Length %d>>stream\n%s\nendstream" % (len(stream), stream),
    ]
    written, places = b"%PDF-1.7\n", []
    for number, body in enumerate(bodies, 1):
        places.append(len(written))
        written += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    end = b"trailer<</Size 5/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % len(written)
    return written + b"xref\n0 5\n0000000000 65535 f \n" + table + end
