"""Turns the printed formula of a rule (notation: src/trade/rule.h) into a line of Python over NumPy columns.

An operand is either a number or the text of an expression; numbers are worked out here, so that what does not vary costs
the peer nothing.
"""
import math
import re

TOKEN = re.compile(r"\s*(?:(\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)|([^\W\d][\w']*)|(<=|>=|.))")
ONE = {"sqrt": ("np.sqrt", math.sqrt), "sin": ("np.sin", math.sin), "cos": ("np.cos", math.cos),
       "tan": ("np.tan", math.tan), "asin": ("np.arcsin", math.asin), "acos": ("np.arccos", math.acos),
       "atan": ("np.arctan", math.atan), "exp": ("np.exp", math.exp), "ln": ("np.log", math.log),
       "lg": ("np.log10", math.log10), "abs": ("np.abs", abs)}
TWO = {"min": ("np.minimum", min), "max": ("np.maximum", max), "atan2": ("np.arctan2", math.atan2)}


def combine(a, sign, b):
    if isinstance(a, float) and isinstance(b, float):
        return {"+": a + b, "-": a - b, "*": a * b}[sign] if sign != "/" else a / b
    if (sign == "*" and a == 1.0) or (sign == "+" and a == 0.0):
        return b
    if (sign in "*/" and b == 1.0) or (sign in "+-" and b == 0.0):
        return a
    return f"({text(a)} {sign} {text(b)})"


def text(operand):
    return repr(operand) if isinstance(operand, float) else operand


def raised(base, exponent):
    """Small whole powers as products: NumPy's own power is many times slower."""
    if isinstance(base, float) and isinstance(exponent, float):
        return base ** exponent
    if exponent == 2.0:
        return f"np.square({text(base)})"
    if exponent in (3.0, 4.0) and base.isidentifier():
        return "(" + " * ".join([base] * int(exponent)) + ")"
    return f"({text(base)} ** {text(exponent)})"


class Formula:
    """A formula being read; `names` holds what each symbol stands for."""

    def __init__(self, formula, names):
        self.tokens = [(m[1], m[2], m[3]) for m in TOKEN.finditer(formula.strip())]
        self.at, self.names = 0, dict(names)

    def peek(self):
        return self.tokens[self.at] if self.at < len(self.tokens) else (None, None, None)

    def take(self, sign):
        if self.peek()[2] == sign:
            self.at += 1
            return True
        return False

    def want(self, sign):
        if not self.take(sign):
            raise ValueError(f'"{sign}" is missing at {self.tokens[self.at:]}')

    def sum(self):
        value = combine(0.0, "-", self.product()) if self.take("-") else self.product()
        while self.peek()[2] in ("+", "-"):
            sign = self.peek()[2]
            self.at += 1
            value = combine(value, sign, self.product())
        return value

    def product(self):
        value = self.power()
        while True:
            if self.take("/"):
                value = combine(value, "/", self.power())
            elif self.peek()[0] or self.peek()[1] or self.peek()[2] == "(":
                value = combine(value, "*", self.power())
            else:
                return value

    def power(self):
        base = self.primary()
        if not self.take("^"):
            return base
        minus = self.take("-")
        exponent = self.power()
        return raised(base, combine(0.0, "-", exponent) if minus else exponent)

    def primary(self):
        number, word, sign = self.peek()
        self.at += 1
        if number:
            return float(number)
        if sign == "(":
            value = self.sum()
            self.want(")")
            return value
        if self.peek()[2] == "(" and (word in ONE or word in TWO or word == "if"):
            self.at += 1
            return self.call(word)
        if word == "pi":
            return math.pi
        return self.names[word]

    def call(self, word):
        if word == "if":
            return self.condition()
        values = [self.sum()]
        while self.take(","):
            values.append(self.sum())
        self.want(")")
        many, one = (ONE if word in ONE else TWO)[word]
        if all(isinstance(value, float) for value in values):
            return float(one(*values))
        return f"{many}({', '.join(map(text, values))})"

    def condition(self):
        a, sign = self.sum(), self.peek()[2]
        self.at += 1
        b = self.sum()
        self.want(",")
        x = self.sum()
        self.want(",")
        y = self.sum()
        self.want(")")
        if isinstance(a, float) and isinstance(b, float):
            return x if {"<": a < b, ">": a > b, "<=": a <= b, ">=": a >= b}[sign] else y
        return f"np.where({text(a)} {sign} {text(b)}, {text(x)}, {text(y)})"

    def equations(self):
        """(symbol, operand) of each equation; a symbol is put in place where later ones use it."""
        while self.at < len(self.tokens):
            symbol = self.peek()[1]
            self.at += 1
            self.want("=")
            value = self.sum()
            name = yield symbol, value
            self.names[symbol] = name
            self.take(";")
