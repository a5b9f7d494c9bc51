"""A standard game: who wins it, and after how many points.

Sources: ITF Rules of Tennis, Rule 5a (ad) and the appendix "Alternative
Procedures and Scoring Methods" (no-ad); Carter and Crews, "An Analysis of the
Game of Tennis", The American Statistician 28 (1974); Newton and Keller,
"Probability of winning at tennis I", Studies in Applied Mathematics 114
(2005); O'Malley, "Probability Formulas and Statistical Analysis in Tennis",
Journal of Quantitative Analysis in Sports 4 (2008).
"""

from __future__ import annotations

from scheduler.domain.formats import GameFormat
from scheduler.timing.window import NEGLIGIBLE, Window

#: Points of the shortest game, and of one that has reached three points each.
_SHORTEST, _DEUCE = 4, 6


def game_chance(p: float, game_format: GameFormat = GameFormat.AD) -> float:
    """Return the chance that the server wins the game.

    Parameters
    ----------
    p
        The server's chance of a point, from 0 to 1; a fraction gives an exact
        fraction.
    game_format
        How the game ends.

    Notes
    -----
    With q = 1 - p the server wins to love, 15 or 30 with p⁴(1 + 4q + 10q²),
    and reaches deuce with 20p³q³, from where the chance is p²/(p² + q²). This
    sum of positive terms equals the published p⁴(15 - 4p - 10p²/(1 - 2pq)).
    No-ad: p⁴(1 + 4q + 10q² + 20q³).
    """
    q = 1 - p
    before_deuce = p**4 * (1 + 4 * q + 10 * q**2)
    if game_format is GameFormat.NO_AD:
        return before_deuce + 20 * p**4 * q**3
    return before_deuce + 20 * p**3 * q**3 * p**2 / (p**2 + q**2)


def game_points_mean(p: float, game_format: GameFormat = GameFormat.AD) -> float:
    """Return the mean number of points of a game in which the server has chance p.

    Notes
    -----
    Games of 4, 5 and 6 points, and 20p³q³ games at deuce, which lasts
    2/(p² + q²) points more in the mean with advantages and one point in no-ad.
    """
    q = 1 - p
    four, five = p**4 + q**4, 4 * p * q * (p**3 + q**3)
    six, deuce = 10 * p**2 * q**2 * (p**2 + q**2), 20 * p**3 * q**3
    if game_format is GameFormat.NO_AD:
        return 4 * four + 5 * five + 6 * six + 7 * deuce
    return 4 * four + 5 * five + 6 * six + deuce * (6 + 2 / (p**2 + q**2))


def play_game(before: Window, p: float, game_format: GameFormat) -> tuple[Window, Window]:
    """Return the distributions of points after one more game, won and lost by the server.

    Parameters
    ----------
    before
        The distribution of points played until now.
    p
        The server's chance of a point.
    game_format
        How the game ends.

    Notes
    -----
    In generating functions the server's win is
    p⁴z⁴(1 + 4qz + 10q²z²) + 20p³q³z⁶ · p²z²/(1 - 2pqz²). Dividing by
    1 - 2pqz² is a recurrence of one term, so deuces need no cut-off and a
    game costs a few operations for each number of points.
    """
    q = 1 - p
    deuces = _deuces(before.mass, 2 * p * q if game_format is GameFormat.AD else 0.0)
    room = len(deuces) + _DEUCE + 2 - _SHORTEST
    reached = [0.0, 0.0, *before.mass, *[0.0] * (room - len(before.mass))]
    # A deciding point takes one point, not the two of an advantage won.
    delay = 4 if game_format is GameFormat.AD else 3
    from_deuce = [0.0] * delay + deuces + [0.0] * (room - delay - len(deuces))
    ends = [
        _finish(reached, from_deuce, _weights(own, other, game_format))
        for own, other in ((p, q), (q, p))
    ]
    start = before.start + _SHORTEST
    return Window(start, ends[0]).trimmed(), Window(start, ends[1]).trimmed()


def _deuces(mass: list[float], again: float) -> list[float]:
    """Spread each chance over the deuces to come, `again` being the chance of another one."""
    deuces = list(mass)
    for index in range(2, len(deuces)):
        deuces[index] += again * deuces[index - 2]
    while again and any(chance >= NEGLIGIBLE for chance in deuces[-2:]):
        deuces.append(again * deuces[-2] if len(deuces) > 1 else 0.0)
    return deuces


def _weights(
    own: float, other: float, game_format: GameFormat
) -> tuple[float, float, float, float]:
    """Return the chances of a game in 4, 5 and 6 points, and of deuce and the points after it."""
    deciding = own**2 if game_format is GameFormat.AD else own
    deuce = 20 * (own * other) ** 3
    return own**4, 4 * own**4 * other, 10 * own**4 * other**2, deuce * deciding


def _finish(
    reached: list[float], from_deuce: list[float], weights: tuple[float, float, float, float]
) -> list[float]:
    four, five, six, deuce = weights
    return [
        four * now + five * one_less + six * two_less + deuce * late
        for two_less, one_less, now, late in zip(
            reached, reached[1:], reached[2:], from_deuce, strict=False
        )
    ]
