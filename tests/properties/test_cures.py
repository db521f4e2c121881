"""A cure cures, whatever the mount: the judgement passes, and nothing else begins to fail."""

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from setting_mounts import settable
from sizes import examples

from mountcalc.check.check import cures
from mountcalc.check.evaluation import evaluate
from mountcalc.errors import InputError, MountError
from mountcalc.judgement import Verdict, key_of
from mountcalc.setting.advice import solved_remedies


@settings(max_examples=examples(4))
@given(settable(st.booleans()), st.sampled_from((None, 0.5, 3.0)))
def test_a_cure_cures(scenario, turns):
    try:
        judged = evaluate(scenario, turns)
    except (MountError, InputError):
        assume(condition=False)
    assume(judged.fails)
    found = cures(judged)
    applied = {id(cure): evaluate(cure.change.scenario) for cure in found.values()}
    for key, cure in found.items():
        again = applied[id(cure)]
        verdicts = {key_of(one): one.verdict for one in again.judgements}
        assert verdicts.get(key, Verdict.PASS) is Verdict.PASS, cure.sentence
        assert not again.fails.keys() - judged.fails.keys(), cure.sentence


@settings(max_examples=examples(2))
@given(settable(st.booleans()))
def test_a_remedy_gives_a_setting_and_spoils_nothing(scenario):
    try:
        before = evaluate(scenario).fails.keys()
    except MountError:
        assume(condition=False)
    for remedy, changed in solved_remedies(scenario):
        after = evaluate(changed)
        assert after.point.setting.open, remedy.sentence
        assert not after.fails.keys() - before, remedy.sentence
