"""Room between bolt and motor of one plain mount, scanned at many plate angles with shapely."""

import numpy as np
import shapely

from mountcalc.scenario.model import AdjusterKind

SCAN = 121


def slow_room(mount, install, take_up):
    """Least room of bolt and wrench beyond what they need; what is behind the plate has some."""
    return min(room_at(mount, phi, install, take_up) for phi in np.linspace(install, take_up, SCAN))


def laid(mount, place, phi):
    """A place in the axes of the plate as it is then: along it, and to the motor's side."""
    turn = np.exp(1j * phi)
    gap = place - mount.hinge
    return ((mount.along * turn).conjugate() * gap).real, (
        (mount.normal * turn).conjugate() * gap
    ).real


def room_at(mount, phi, install, take_up):
    space = mount.space
    bolt, heads = bolt_at(mount, phi, install, take_up)
    bolt, heads = ([laid(mount, place, phi) for place in places] for places in (bolt, heads))
    u, v = laid(mount, mount.turned(mount.motor, phi), phi)
    half = space.motor_feet / 2
    motor = shapely.union(
        shapely.box(u - half, 0.0, u + half, v),
        shapely.Point(u, v).buffer(space.motor_body / 2, quad_segs=128),
    )
    rooms = []
    for places, needed in ((bolt, space.clearance), (heads, space.wrench_space)):
        # The motor stands on the face that the hinge's pin lies in: behind it is what v says so.
        if not places or max(place[1] for place in places) <= 1e-9:
            continue
        rooms.append(shapely.distance(shapely.LineString(places), motor) - needed)
    return min(rooms, default=np.inf)


def bolt_at(mount, phi, install, take_up):
    """Ends of the bolt, and its head wherever it is at this angle or, on the plate, at any."""
    if mount.kind is AdjusterKind.LINK:
        return (mount.tip - mount.space.link_length * mount.axis, mount.turned(mount.tip, phi)), ()
    length = mount.space.bolt_length
    if mount.kind is AdjusterKind.JACK_IN_BASE:
        at = mount.extension(phi)
        head = mount.tip + (at - length) * mount.axis
        return (mount.tip + at * mount.axis, head), (head, head)
    ends = sorted(mount.extension(end) for end in (install, take_up))
    tip = mount.tip + ends[1] * mount.axis
    heads = [mount.tip + (end - length) * mount.axis for end in ends]
    return [mount.turned(at, phi) for at in (tip, heads[0])], [
        mount.turned(at, phi) for at in heads
    ]
