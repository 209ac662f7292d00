"""A slow second way to a press fit: both rings moved step by step, without Lamé."""


def _ring(inner: float, outer: float, young: float, ratio: float, pull: float, push: float) -> list[float]:
    """How far each radius of a ring moves under pressures, pull inside and push outside, by differences.

    u'' + u'/r - u/r² = 0 with the radial stress given at both edges, plane stress, solved from end to end.
    """
    count = 1500
    step = (outer - inner) / count
    radii = [inner + step * k for k in range(count + 1)]
    stiff = young / (1 - ratio**2)

    def marched(start: float, slope: float) -> tuple[list[float], float]:
        moved, rate = [start], slope
        for radius in radii[:-1]:
            # A step of the middle point: the slope half way, then the whole step with it.
            half_u, half_r = moved[-1] + rate * step / 2, radius + step / 2
            bend = moved[-1] / radius**2 - rate / radius
            half_rate = rate + bend * step / 2
            moved.append(moved[-1] + half_rate * step)
            rate += (half_u / half_r**2 - half_rate / half_r) * step
        return moved, rate

    def radial(moved: float, rate: float, radius: float) -> float:
        return stiff * (rate + ratio * moved / radius)

    bases = [marched(1.0, (-pull / stiff) - ratio / inner), marched(0.0, -pull / stiff)]
    ends = [radial(moved[-1], rate, outer) for moved, rate in bases]
    share = (-push - ends[1]) / (ends[0] - ends[1])
    return [share * a + (1 - share) * b for a, b in zip(bases[0][0], bases[1][0], strict=True)]


def press_fit_by_differences(
    *,
    inner: float,
    joint: float,
    outer: float,
    interference: float,
    hub: tuple[float, float],
    shaft: tuple[float, float],
) -> dict[str, float]:
    """Pressure and hoop stresses of a bored shaft in a hub, by diameters, from how both rings move."""
    a, b, c = inner / 2, joint / 2, outer / 2
    of_hub, of_shaft = _ring(b, c, *hub, 1.0, 0.0), _ring(a, b, *shaft, 0.0, 1.0)
    pressure = interference / 2 / (of_hub[0] - of_shaft[-1])
    hub_hoop = pressure * (hub[0] * of_hub[0] / b - hub[1])  # E u/r + ratio × radial
    return {
        "pressure": pressure,
        "hub_hoop": hub_hoop,
        "shaft_hoop": pressure * shaft[0] * of_shaft[0] / a,
    }
