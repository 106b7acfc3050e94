"""What can be wrong with a pack: every mistake is told with its file, line and column, and all of them at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from speclint.files.kit import load_kit, load_pack_examples
from speclint.kernel.faults import PackFault
from speclint.packs.prove import prove_examples
from speclint.review.examples import ExampleJudge
from tests.packs.tiny import HEAD, PLACE, RULE, rule_of, spoilt, write_pack


def test_a_sound_pack_compiles(tmp_path: Path) -> None:
    path = write_pack(tmp_path)
    (pack,) = load_kit((), (path,)).packs
    (rule,) = pack.rules
    assert (pack.name, pack.version, len(pack.hash)) == ("house", "0.0.1", 32)
    assert (rule.name, rule.pack, rule.topic, rule.weight) == ("body-too-thick", "house", "loads", "remark")
    assert rule.limits == (("most", "1/2 in", ""),)
    assert rule.examples == ()
    assert [one.ends for one in load_pack_examples((), (path,))[rule.name]] == [
        "meets",
        "does not meet",
        "not shown",
        "does not apply",
    ]


def test_a_message_may_say_where(tmp_path: Path) -> None:
    said = RULE.replace("{tile.thick} tile is", "{place}: {tile.thick} tile is")
    said = said.replace('message: "33/64 in tile', 'message: "Here / work: 33/64 in tile')
    rule = rule_of(write_pack(tmp_path, said))
    assert [str(problem) for problem in prove_examples(rule, ExampleJudge(load_kit()))] == []


MISTAKES = [
    # a field
    ("weight: remark", "weigth: remark", '2:1: "weigth" is no field'),
    ("weight: remark", "weight: heavy", '2:9: "heavy" is none of tear-out, callback, remark'),
    ("acts: setter\n", "", '"acts" is missing'),
    ("spec part: 2", "spec part: 4", '4:12: "4" is none of 1, 2, 3'),
    ("may be varied by: designer", "may be varied by: [designer, 3]", "6:30:"),
    # a name
    ("name: body-too-thick", "name: body-too-thin", '1:7: the rule is named "body-too-thin", its file "body-too-thick.yaml"'),
    ("name: body-too-thick", "name: R-0042", '1:7: "R-0042" is not shaped like'),
    # names of the vocabulary, with the nearest
    ("acts: setter", "acts: seter", '5:7: there is no role "seter"; nearest: setter'),
    ("may be varied by: designer", "may be varied by: [designer, desiner]", '6:30: there is no role "desiner"; nearest: designer'),
    ("judges: assembly", "judges: asembly", '3:9: there is no subject that a rule can judge "asembly"; nearest: assembly'),
    ("acts: setter", "acts: setter\ndue: befor tile", '6:6: there is no stage "befor tile"; nearest: before tile'),
    ("acts: setter", "acts: setter\nshown by: lift tset", '6:11: there is no record kind "lift tset"; nearest: lift test'),
    ("points at: tile.thick", "points at: [tile.thick, tile.tick]", '10:25: there is no fact "tile.tick"; nearest: tile.thick'),
    # a condition
    ("demands: tile.thick <=", "demands: tile.thik <=", "9:10: there is no fact `tile.thik`; did you mean `tile.thick`"),
    ("demands: tile.thick <= limit.most", "demands: tile.thick <= limit.mots", "9:24: there is no limit `mots`; did you mean `most`?"),
    ("demands: tile.thick <= limit.most", "demands: tile.thick <= limit.most and", "9:38: the condition stops after `and`"),
    ("demands: tile.thick <=", "demands: tile.thick =<", "9:21: write `<=` instead of `=<`"),
    ("applies: tile.material = porcelain", "applies: tile.material = porcelan", "7:26: there is no tile material `porcelan`"),
    ("demands: tile.thick <=", "demands: (((tile.thick) <=", "a parenthesis is opened and not closed"),
    # a dimension
    ("limits: {most: 1/2 in}", "limits: {most: 1/2 lb}", "9:21: a quantity (length) cannot be compared with a quantity (mass)"),
    ("limits: {most: 1/2 in}", "limits: {most: 1/2 inn}", "8:16: there is no unit `inn`"),
    ("limits: {most: 1/2 in}", "limits: {most: 1/2 in, spare: 1 in}", '8:24: no condition reads the limit "spare"'),
    # a message
    ("{tile.thick} tile is", "{tile.tick} tile is", "11:11: {tile.tick} is neither a fact nor a limit of this rule; nearest: tile.thick"),
    ("than {limit.most}.", "than {limit.least}.", "11:45: {limit.least} is neither a fact nor a limit"),
    ("than {limit.most}.", "than 1/2 in.", '11:45: "1/2" is a figure written into the message'),
    ("than {limit.most}.", "than {limit.most.", "11:45: this brace has no partner"),
    ('"{tile.thick} tile is thicker than {limit.most}."', "Too thick.", "11:10: the message names no fact"),
    # a cite
    ("basis: common practice", "basis: hearsay", '12:40: "hearsay" is none of looked-up, derived, common practice, memory'),
    ("basis: common practice", 'text: "The clause reads", basis: memory', '12:33: "text" is no field of a clause by number only'),
    ("standard: house habit, ", "", "is missing"),
    ("standard: house habit, basis: common practice", "standard: ANSI A108.55, basis: looked-up", '12:20: there is no standard in the register "ANSI A108.55"; nearest: ANSI A108'),
    ("standard: house habit, basis: common practice", 'standard: ANSI A108.5, edition: "1066", basis: looked-up', '12:42: the register has no edition "1066" of ANSI A108.5'),
    # weight without leave
    ("weight: remark", "weight: callback", "2:9: memory, low confidence and a single habit of the trade bear no more than a remark"),
    ("weight: remark", "weight: tear-out", "12:8: the weight tear-out needs a cite with basis looked-up, confidence high and a clause number"),
    # examples
    ("ends: not shown, missing: [tile.thick]", "ends: meets", '13:1: no example ends "not shown"'),
    ("ends: meets", "ends: does not apply", '13:1: no example ends "meets"'),
    ("ends: meets", "ends: passes", '"passes" is none of meets, does not meet'),
    (", points at: 33/64 in", "", '15:5: an example that does not meet says "points at"'),
    ("missing: [tile.thick]", "missing: [tile.thik]", '16:77: there is no fact "tile.thik"; nearest: tile.thick'),
    ("acts: setter", "acts: setter\nacts: plumber", '6:1: "acts" stands twice, first on line 5: keep one'),
    ("acts: setter", "acts: &who setter", "5:7: anchors and aliases are not read here"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "told"), MISTAKES, ids=[f"{old} -> {new}"[:80] for old, new, _ in MISTAKES])
def test_a_mistake_is_told_at_its_place(tmp_path: Path, old: str, new: str, told: str) -> None:
    problems = spoilt(tmp_path, old, new)
    if told == "is missing" and not problems:
        return  # a habit of the trade needs no standard
    wanted = told if told[0].isdigit() else f": {told}"
    assert any(wanted in problem and problem.startswith(PLACE) for problem in problems), problems


def test_a_habit_of_the_trade_needs_no_standard_but_a_clause_looked_up_does(tmp_path: Path) -> None:
    assert spoilt(tmp_path, "standard: house habit, ", "") == []
    (problem,) = spoilt(tmp_path, "standard: house habit, basis: common practice", "basis: looked-up")
    assert problem.startswith(f"{PLACE}:12:")


def test_all_problems_of_all_files_come_at_once(tmp_path: Path) -> None:
    path = write_pack(tmp_path, RULE.replace("acts: setter", "acts: seter").replace("tile.thick <=", "tile.thik <="))
    write_pack(tmp_path, RULE.replace("judges: assembly", "judges: wall"), place="loads/other-name.yaml")
    with pytest.raises(PackFault) as caught:
        load_kit((), (path,))
    files = [problem.span.file.rsplit("/", 1)[1] for problem in caught.value.problems]
    assert files.count("body-too-thick.yaml") == 2
    assert files.count("other-name.yaml") == 2
    assert list(caught.value.problems) == sorted(caught.value.problems, key=lambda one: one.span.order)


def test_a_pack_without_its_head_is_told(tmp_path: Path) -> None:
    path = write_pack(tmp_path)
    (tmp_path / "house" / "pack.yaml").unlink()
    with pytest.raises(PackFault, match="a pack needs this file"):
        load_kit((), (path,))


def test_a_topic_of_the_head_is_a_folder(tmp_path: Path) -> None:
    path = write_pack(tmp_path, head=f"{HEAD}topics: [loads, lodas]\n")
    with pytest.raises(PackFault, match=r'pack.yaml:5:17: there is no folder "lodas" in this pack'):
        load_kit((), (path,))


def test_names_and_former_names_are_unique_over_all_packs(tmp_path: Path) -> None:
    first, second = write_pack(tmp_path / "a"), write_pack(tmp_path / "b")
    with pytest.raises(PackFault, match='another rule is named "body-too-thick"'):
        load_kit((), (first, second))
    other = RULE.replace("name: body-too-thick", "name: another\nformerly: body-too-thick")
    write_pack(tmp_path / "a", other, place="loads/another.yaml")
    with pytest.raises(PackFault, match='the former name "body-too-thick" is in use'):
        load_kit((), (first,))


def test_a_rule_outside_a_topic_is_told(tmp_path: Path) -> None:
    path = write_pack(tmp_path, place="body-too-thick.yaml")
    with pytest.raises(PackFault, match="a rule stands in the folder of its topic"):
        load_kit((), (path,))


def test_the_weight_of_paper_is_never_tear_out(tmp_path: Path) -> None:
    rule = RULE.replace("weight: remark", "weight: tear-out").replace("{standard: house habit, basis: common practice, confidence: medium}", '{standard: ANSI A108.5, clause: "2.2.2", basis: looked-up, confidence: high}')  # fmt: skip
    assert load_kit((), (write_pack(tmp_path / "a", rule),)).packs[0].rules[0].weight == "tear-out"
    paper = rule.replace(
        "demands: tile.thick <= limit.most", "demands: tile.thick <= limit.most and count of records > 0"
    )
    with pytest.raises(PackFault, match="a missing or late paper is never tear-out"):
        load_kit((), (write_pack(tmp_path / "b", paper),))


def test_the_weight_a_cite_bears(tmp_path: Path) -> None:
    habits = "{basis: common practice, confidence: medium}, {basis: common practice, confidence: medium}"
    assert spoilt(tmp_path, "weight: remark", "weight: remark") == []
    for number, cite in enumerate(
        (habits, "{basis: derived, confidence: medium}", "{basis: common practice, confidence: high}")
    ):
        rule = RULE.replace("weight: remark", "weight: callback")
        rule = rule.replace("{standard: house habit, basis: common practice, confidence: medium}", cite)
        load_kit((), (write_pack(tmp_path / str(number), rule),))
    for number, cite in enumerate(
        ("{standard: ANSI A108.5, basis: memory, confidence: high}", "{basis: derived, confidence: low}")
    ):
        rule = RULE.replace("weight: remark", "weight: callback")
        rule = rule.replace("{standard: house habit, basis: common practice, confidence: medium}", cite)
        with pytest.raises(PackFault, match="no more than a remark"):
            load_kit((), (write_pack(tmp_path / f"refused {number}", rule),))


def test_a_limit_may_differ_by_edition(tmp_path: Path) -> None:
    variants = "limits: {most: [{value: 1/2 in}, {value: 5/8 in, label: thick, when: tile.nominal-a > 20 in}]}"
    path = write_pack(tmp_path, RULE.replace("limits: {most: 1/2 in}", variants))
    rule = rule_of(path)
    assert rule.limits == (("most", "1/2 in", ""), ("most", "5/8 in", "thick"))
    assert [variant.label for variant in rule.judgement.limits["most"]] == ["", "thick"]
    assert (
        spoilt(tmp_path / "x", "limits: {most: 1/2 in}", variants.replace("nominal-a", "nominal-q"))[0].endswith(
            "did you mean `tile.nominal-a` or `tile.nominal-b`?"
        )
        or "nominal-q"
        in spoilt(tmp_path / "y", "limits: {most: 1/2 in}", variants.replace("nominal-a", "nominal-q"))[0]
    )
    unlabelled = spoilt(
        tmp_path / "z", "limits: {most: 1/2 in}", variants.replace(", when: tile.nominal-a > 20 in", "")
    )
    assert 'the variant "thick" needs "when"' in unlabelled[0]


def test_a_rule_that_only_asks_needs_no_failing_example(tmp_path: Path) -> None:
    lines = [line for line in RULE.splitlines() if "a hair over" not in line]
    rule = "\n".join(lines).replace("acts: setter", "acts: setter\nasks only: yes")
    assert rule_of(write_pack(tmp_path, rule)).asks_only is True
    with pytest.raises(PackFault, match='never ends "does not meet"'):
        load_kit((), (write_pack(tmp_path / "b", RULE.replace("acts: setter", "acts: setter\nasks only: yes")),))
