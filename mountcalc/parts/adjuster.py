"""What the adjuster is bought as: bolt or link, what it turns in, nuts, washers, spring."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mountcalc.pages.amounts import rate_text
from mountcalc.parts.amounts import short
from mountcalc.parts.results import Part
from mountcalc.scenario.hardware import Holder
from mountcalc.scenario.model import AdjusterKind, Coil, Scenario
from mountcalc.strength.bolt_length import BoltLength, bolt_length, bolt_size

_HELD_IN = {
    Holder.NUT: "nut for the bolt to turn in",
    Holder.INSERT: "threaded insert for the bolt",
    Holder.T_NUT: "T-nut for the bolt",
}


def adjuster_parts(scenario: Scenario) -> Iterator[Part]:
    """All of the adjuster, in the order of its way from the tip; nothing without one."""
    found, adjuster = bolt_length(scenario), scenario.adjuster
    if found is None:
        return
    name = None if adjuster.thread is None else adjuster.thread.name
    thread_key = () if adjuster.thread is not None else ("adjuster.thread",)
    count, source = len(adjuster.places), "adjuster.thread" if name else ""
    nut = Part("", count, name, None, "", source, thread_key)
    if adjuster.kind is AdjusterKind.LINK and adjuster.coil is None:
        yield _turnbuckle(scenario, found, nut)
        sentence = "one of each hand where it is a turnbuckle (common practice)"
        yield replace(nut, name="lock nut for the link", count=2 * count, sentence=sentence)
        yield _pin(2 * count)
        return
    yield _bolt(scenario, found, nut)
    if adjuster.kind is AdjusterKind.LINK:
        yield replace(nut, name="nut under the spring", sentence="what is turned")
        yield _pin(count)
    else:
        yield from _holder(scenario, nut)
    yield replace(nut, name="lock nut", sentence="set, lock, then measure again")
    washers = "one under each nut (common practice)"
    holder = scenario.parts.bolt.holder
    alone = adjuster.kind is not AdjusterKind.LINK and holder not in {None, Holder.NUT}
    times = 1 if alone else 2
    yield replace(nut, name="washer for the bolt", count=times * count, sentence=washers)
    if adjuster.coil is not None:
        yield _spring(scenario, adjuster.coil, count)


def _bolt(scenario: Scenario, found: BoltLength, like: Part) -> Part:
    """The bolt, with all that adds up to its length."""
    adjuster, display, said = scenario.adjuster, scenario.display, scenario.parts.bolt
    name = "eye-bolt" if adjuster.kind is AdjusterKind.LINK else "bolt"
    summed = ", ".join(f"{short(one.length, display)} {one.words}" for one in found.stretches)
    keys = like.not_told + (() if said.strength else ("adjuster.strength",))
    if not found.placed:
        keys += ("adjuster.stands_out",)
    sentence, size = f"{summed}: {short(found.wanted, display)} at least", like.size
    if not found.is_known:
        sentence = f"{summed}; its length hangs on its diameter, which is not told"
    elif found.stock is None:
        sentence += "; longer than shops have: cut it from threaded rod"
        sentence += " with an eye nut on it" if name == "eye-bolt" else ""
    elif adjuster.thread is not None:
        size = bolt_size(adjuster.thread, found.stock)
        sentence += "; threaded all along"
    if found.is_known and found.stock is None and size is not None:
        size += f", {short(found.wanted, display)} long"
    if size is not None and said.strength is not None:
        size += f", {'class ' if said.strength[0].isdigit() else ''}{said.strength}"
    if found.reach[0] < 0:
        back = short(-found.reach[0], display)
        sentence += f"; as drawn its tip comes {back} inside what it turns in: move that back"
    elif not found.placed:
        sentence += "; fix what it turns in so near that the tip is flush with it at the slack end"
    sources = dict.fromkeys(one.source for one in found.stretches)
    source = "; ".join(sources)
    if found.stock is not None:
        source += "; rounded up to a length that shops have (common practice)"
    return replace(
        like, name=name, size=size, length=found.length, sentence=sentence, source=source,
        not_told=keys,
        estimate=not found.placed,
    )  # fmt: skip


def _holder(scenario: Scenario, like: Part) -> Iterator[Part]:
    """What a bolt turns in."""
    said = scenario.parts.bolt
    if said.holder is Holder.TAPPED_WOOD:
        return  # it is cut into the board
    keys = like.not_told + (() if said.holder else ("adjuster.holder",))
    sentence = "fixed so that it cannot turn"
    if said.engagement is not None:
        sentence += f"; {short(said.engagement, scenario.display)} of thread in it"
    if said.holder is None:
        sentence += "; a nut is taken: an insert, a T-nut or a tapped plate does, too"
    name = _HELD_IN[said.holder or Holder.NUT]
    source = "adjuster.holder" if said.holder else "common practice"
    yield replace(like, name=name, sentence=sentence, source=source, not_told=keys)


def _turnbuckle(scenario: Scenario, found: BoltLength, like: Part) -> Part:
    """A link from pin to pin."""
    display, (near, far) = scenario.display, found.reach
    ends = f"{short(near, display)} to {short(far, display)} between pins"
    size = ends if like.size is None else f"{like.size}, {ends}"
    sentence = f"it has to change by {short(found.travel, display)} from install to take-up"
    return replace(
        like, name="link", size=size, length=far, sentence=sentence, source="the mount as solved"
    )


def _pin(count: int) -> Part:
    return Part("pin for the link", count, None, None, "its size is not told", "adjuster.kind")


def _spring(scenario: Scenario, coil: Coil, count: int) -> Part:
    """The coil spring; several share the rate."""
    display = scenario.display
    free, solid = (short(one, display) for one in (coil.free_length, coil.free_length - coil.stop))
    each = "of the rate of all, shared; " if count > 1 else ""
    return Part(
        name="coil spring",
        count=count,
        size=f"{rate_text(coil.rate / count, display)}, {free} long, {solid} solid",
        length=coil.free_length,
        sentence=f"{each}round the bolt or on a rod that guides it; its bore clears that",
        source="adjuster.spring",
    )
