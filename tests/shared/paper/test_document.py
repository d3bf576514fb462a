"""From HTML to PDF: the bundled font, nothing fetched, and a sentence where Pango is missing."""

from io import BytesIO

import pypdfium2
import pytest
from django.utils import translation
from pypdf import PdfReader

from shared.errors import Refused
from shared.paper import document
from tests.shared.paper.needs import pango

SIZE = "@page { size: 100mm 60mm; margin: 0 }"


@pango
def test_a_page_has_its_size_its_text_and_the_bundled_font():
    made = document.pdf(document.page_of("Tags & more", ['<p style="font: 5mm Shop Paper">HATCH7 wymię</p>']), css=SIZE)
    paper = pypdfium2.PdfDocument(made)
    assert [round(side * 25.4 / 72, 2) for side in paper[0].get_size()] == [100, 60]
    assert paper[0].get_textpage().get_text_bounded() == "HATCH7 wymię"
    assert paper.get_metadata_value("Title") == "Tags & more"
    (font,) = PdfReader(BytesIO(made)).pages[0]["/Resources"]["/Font"].values()
    assert "Shop-Paper" in font["/BaseFont"]


def test_a_document_says_its_language():
    with translation.override("de"):
        assert '<html lang="de">' in document.page_of("Tags", [])


@pango
def test_nothing_is_fetched_from_elsewhere(tmp_path, caplog):
    secret = tmp_path / "secret.svg"
    secret.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><text>secret</text></svg>')
    document.pdf(f'<img src="{secret.as_uri()}"><img src="http://127.0.0.1:9/x.png">', css=SIZE)
    assert sum("disallowed protocol" in record.message for record in caplog.records) == 2
    address = secret.as_uri()
    document.pdf("<p>x</p>", css=f'@import url("{address}"); p {{ background: url("{address}") }}')
    assert sum("disallowed protocol" in record.message for record in caplog.records) == 4


def test_without_pango_the_line_to_type_is_said(monkeypatch):
    monkeypatch.setattr(document.libraries, "missing", lambda: ["pango-1.0"])
    with pytest.raises(Refused, match=r"apt-get install libpango-1\.0-0"):
        document.pdf("<p>x</p>")
