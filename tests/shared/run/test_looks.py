"""The contact sheet of `make looks`."""

from shared.run.looks import contact_sheet


def test_it_shows_every_picture_in_the_row_of_its_page(tmp_path):
    for name in ("board/390-dark.png", "board/390-light.png", "tool/390-light.png"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(b"")
    (tmp_path / "index.html").write_text("the one before")
    rows = contact_sheet(tmp_path).split("<section>")[1:]
    assert [row.count("<img") for row in rows] == [2, 1]
    assert 'src="board/390-dark.png"' in rows[0]
