"""Finite fields of small order, elements numbered by their digits."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import product


@dataclass(frozen=True)
class Field:
    """The field with `prime` to the power `degree` elements, numbered 0 to order - 1.

    The digits of a number to base `prime` are the coefficients of a polynomial,
    constant term first; products are taken modulo a monic irreducible one, whose
    lower coefficients are `modulus`.
    """

    prime: int
    degree: int
    modulus: tuple[int, ...]

    @property
    def order(self) -> int:
        """How many elements there are."""
        return int(self.prime**self.degree)

    @property
    def one(self) -> int:
        """The number of the element 1."""
        return 1

    def add(self, x: int, y: int) -> int:
        """Return the sum of two elements."""
        pairs = zip(self._digits(x), self._digits(y), strict=True)
        return self._number([(a + b) % self.prime for a, b in pairs])

    def minus(self, x: int) -> int:
        """Return the negative of an element."""
        return self._number([-a % self.prime for a in self._digits(x)])

    def multiply(self, x: int, y: int) -> int:
        """Return the product of two elements."""
        result = [0] * self.degree
        for digit in reversed(self._digits(y)):
            top = result[-1]
            shifted = [0, *result[:-1]]
            result = [
                (s - top * m + digit * a) % self.prime
                for s, m, a in zip(shifted, self.modulus, self._digits(x), strict=True)
            ]
        return self._number(result)

    def _digits(self, x: int) -> list[int]:
        return [x // self.prime**k % self.prime for k in range(self.degree)]

    def _number(self, digits: list[int]) -> int:
        return sum(digit * self.prime**k for k, digit in enumerate(digits))


@cache
def field_of(order: int) -> Field | None:
    """Return the field of an order up to some hundreds, or None if it is no prime power."""
    prime = next((p for p in range(2, order + 1) if order % p == 0), None)
    if prime is None:
        return None
    degree, rest = 0, order
    while rest % prime == 0:
        rest //= prime
        degree += 1
    if rest > 1:
        return None
    for modulus in product(range(prime), repeat=degree):
        field = Field(prime, degree, modulus)
        if degree == 1 or _is_field(field):
            return field if degree > 1 else Field(prime, 1, (0,))
    raise AssertionError("every prime power has a field")


def _is_field(field: Field) -> bool:
    """Return whether x generates all nonzero elements, so that each has an inverse."""
    power, count = field.prime, 1
    while power not in {1, 0}:
        power = field.multiply(power, field.prime)
        count += 1
        if count > field.order:
            return False
    return power == 1 and count == field.order - 1
