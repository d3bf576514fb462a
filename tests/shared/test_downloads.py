"""A download that broke off goes on where it was."""

import pytest
from django.test import RequestFactory

from shared import downloads

pytestmark = pytest.mark.django_db  # the end of a request looks at connections
WHOLE = bytes(range(256)) * 1000


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "shop.zip"
    path.write_bytes(WHOLE)
    return path


def got(path, **headers):
    reply = downloads.reply(RequestFactory().get("/", headers=headers), path)
    content = b"".join(reply.streaming_content) if reply.streaming else reply.content
    reply.close()
    return reply, content


def test_the_whole_file_says_that_it_can_be_gone_on_with(path):
    reply, content = got(path)
    assert (reply.status_code, content) == (200, WHOLE)
    assert reply["Accept-Ranges"] == "bytes"
    assert reply["Content-Length"] == str(len(WHOLE))
    assert 'filename="shop.zip"' in reply["Content-Disposition"]


@pytest.mark.parametrize(
    ("asked", "part", "said"),
    [
        ("bytes=1000-", WHOLE[1000:], "bytes 1000-255999/256000"),
        ("bytes=0-0", WHOLE[:1], "bytes 0-0/256000"),
        ("bytes=10-70000", WHOLE[10:70001], "bytes 10-70000/256000"),
        ("bytes=-3", WHOLE[-3:], "bytes 255997-255999/256000"),
        ("bytes=5-999999999", WHOLE[5:], "bytes 5-255999/256000"),
    ],
)
def test_a_part_is_what_was_asked_for(path, asked, part, said):
    tag = got(path)[0]["ETag"]
    reply, content = got(path, range=asked, if_range=tag)
    assert (reply.status_code, content, reply["Content-Range"]) == (206, part, said)
    assert reply["Content-Length"] == str(len(part))


@pytest.mark.parametrize(
    "asked", ["bytes=-", "bytes=9-3", "bytes=1-2,5-6", "lines=1-2", "bytes=x-", "bytes=" + "9" * 99]
)
def test_what_is_no_range_gets_the_whole(path, asked):
    reply, content = got(path, range=asked)
    assert (reply.status_code, content) == (200, WHOLE)


@pytest.mark.parametrize("asked", ["bytes=256000-", "bytes=300000-400000", "bytes=-0"])
def test_what_is_behind_the_end_is_not_there(path, asked):
    reply, content = got(path, range=asked)
    assert (reply.status_code, content, reply["Content-Range"]) == (416, b"", "bytes */256000")


def test_what_was_begun_of_another_file_begins_anew(path):
    tag = got(path)[0]["ETag"]
    path.write_bytes(WHOLE + b"later")
    reply, content = got(path, range="bytes=1000-", if_range=tag)
    assert (reply.status_code, content) == (200, WHOLE + b"later")
