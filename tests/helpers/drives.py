"""Random drives, and the plain plane geometry of their strands."""

from dataclasses import dataclass

import numpy as np

SEED = 20_260_101


@dataclass(frozen=True)
class Drive:
    """Two pulleys, one of them on a hinged plate: points [m] as drawn, plate angle [rad]."""

    hinge: np.ndarray
    motor: np.ndarray
    driven: np.ndarray
    motor_radius: float
    driven_radius: float
    angle: float

    @property
    def kernel_arguments(self):
        return (
            self.angle,
            *self.hinge,
            *self.motor,
            *self.driven,
            self.motor_radius,
            self.driven_radius,
        )

    def turned(self, vector):
        """A vector fixed to the plate, at the plate angle."""
        cosine, sine = np.cos(self.angle), np.sin(self.angle)
        x, y = vector
        return np.array([cosine * x - sine * y, sine * x + cosine * y])

    def turned_back(self, vector):
        """What a vector at the plate angle is as drawn."""
        cosine, sine = np.cos(self.angle), np.sin(self.angle)
        x, y = vector
        return np.array([cosine * x + sine * y, cosine * y - sine * x])

    @property
    def motor_now(self):
        return self.hinge + self.turned(self.motor - self.hinge)

    def normals(self):
        """Unit normals from either pulley to its two strands, the left one first."""
        across = self.driven - self.motor_now
        heading = np.arctan2(across[1], across[0])
        sine = (self.driven_radius - self.motor_radius) / np.hypot(*across)
        # The strand's normal leans back by the angle whose sine is the radii's difference over C.
        lean = np.arccos(-sine)
        return [
            np.array([np.cos(heading + side * lean), np.sin(heading + side * lean)])
            for side in (1, -1)
        ]


def random_drive(rng):
    """A drive at random whose pulleys are apart and clearly of different size.

    With equal pulleys the references take a wrap of half a turn from an arccosine near -1, which
    costs them half of their digits; the package has no such place.
    """
    while True:
        drive = Drive(
            *rng.uniform(-1, 1, (3, 2)), *rng.uniform(0.02, 0.25, 2), rng.uniform(-0.6, 0.6)
        )
        center = np.hypot(*(drive.driven - drive.motor_now))
        unlike = abs(drive.driven_radius - drive.motor_radius) / center
        lever = np.hypot(*(drive.motor - drive.hinge))
        if center > 1.05 * (drive.driven_radius + drive.motor_radius) and unlike > 0.02 < lever:
            return drive


def random_drives():
    """Sixty drives, the same every time."""
    rng = np.random.default_rng(SEED)
    return [random_drive(rng) for _ in range(60)]
