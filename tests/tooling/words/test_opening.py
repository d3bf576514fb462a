"""The sentence that opens the board."""

from tooling.words.opening import opening


def text(counts, **more):
    said = [", ".join(clause.words + clause.rest for clause in clauses) for clauses in opening(counts, **more)]
    return " ".join(f"{sentence}." for sentence in said)


def test_a_full_morning():
    counts = {"molds": 3, "ready": 3, "soon": 1, "coat": 4, "making": 2, "held": 1, "home": 2}
    assert text(counts, time_is_up=1, molds_only=True) == (
        "Three parts are in the molds, the time of one is up. "
        "Three molds can be laid up, one is nearly ready, four want a coat first. "
        "Two tools are in the making. One is held, two are not home."
    )


def test_a_part_on_a_plug_is_in_no_mold():
    assert text({"molds": 3}, on_plugs=1) == "Three parts and moldings are in the molds and on the plugs."
    assert text({"molds": 1}, on_plugs=1, time_is_up=1) == "One molding is on a plug, and its time is up."


def test_what_there_is_none_of_is_left_out():
    assert text({"molds": 1, "ready": 0, "coat": 1}, time_is_up=1) == (
        "One part is in the molds, and its time is up. One wants a coat first."
    )
    assert text({"ready": 13}) == "13 tools can be laid up."
    assert text({"molds": 2}, time_is_up=2) == "Two parts are in the molds, and the time of all is up."
    assert opening({}) == []
