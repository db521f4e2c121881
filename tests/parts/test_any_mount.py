"""Parts of random mounts: every list is whole, and its bolt reaches its travel."""

import math
from dataclasses import replace

from hypothesis import event, given, settings
from hypothesis import strategies as st
from random_mounts import mounts
from sizes import examples

from mountcalc.errors import MountError
from mountcalc.handbook.machine import known_frames, motor_frame
from mountcalc.parts.page import parts_text
from mountcalc.parts.parts import parts_list
from mountcalc.parts.results import as_csv
from mountcalc.scenario.hardware import BoltMake, Holder
from mountcalc.scenario.parts import Parts
from mountcalc.scenario.text.threads import read_thread
from mountcalc.strength.bolt_length import bolt_length

THREADS = (None, *map(read_thread, ("3/8-16", "M12", "#10-24", "Tr20x4", "1-8", "1/2-13 LH")))


@st.composite
def told_mounts(draw):
    """A random mount with a frame, thread and holder, or none."""
    scenario, frame = draw(mounts()), draw(st.sampled_from((None, *known_frames())))
    bolt = BoltMake(
        holder=draw(st.sampled_from((None, *Holder))),
        engagement=draw(st.one_of(st.none(), st.floats(0.002, 0.1))),
        stands_out=draw(st.one_of(st.none(), st.floats(0.002, 0.4))),
    )
    adjuster = replace(scenario.adjuster, thread=draw(st.sampled_from(THREADS)))
    parts = Parts(frame=None if frame is None else motor_frame(frame), bolt=bolt)
    return replace(scenario, adjuster=adjuster, parts=parts)


@given(told_mounts())
@settings(max_examples=examples(60), deadline=None)
def test_every_list_of_parts_is_whole(scenario):
    try:
        found = parts_list(scenario)
    except MountError as refused:
        event(f"refused: {refused.key}")
        return
    bolt = bolt_length(scenario)
    event("no adjuster" if bolt is None else str(scenario.adjuster.kind))
    for more in (False, True):
        lines = parts_text(scenario, found, more=more).split("\n")
        assert max(map(len, lines)) <= 80
    assert "nan" not in as_csv(found).lower()
    for part in found.parts:
        assert part.length is None or (math.isfinite(part.length) and part.length > 0)
    if bolt is None:
        return
    assert bolt.travel >= 0
    if bolt.stock is not None:
        assert bolt.stock >= bolt.wanted - 1e-9
    if bolt.length is not None:
        # It is longer than what stands out of what holds it, or than its pins come apart.
        assert bolt.length >= bolt.reach[1] - 1e-9
