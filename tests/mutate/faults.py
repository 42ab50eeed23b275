# SPDX-License-Identifier: GPL-3.0-or-later
"""The faults that are made: an operator turned, a constant 10 % larger or 1 more, a condition
negated, an answer or a function swapped."""
import os
import re

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

SWAPS = {"+": "-", "-": "+", "*": "/", "/": "*", "<": "<=", "<=": "<", ">": ">=", ">=": ">",
         "==": "!=", "!=": "==", "&&": "||", "||": "&&", "+=": "-=", "-=": "+=", "*=": "/=",
         "/=": "*=", "%": "*"}
WORDS = {"fmin": "fmax", "fmax": "fmin", "sin": "cos", "cos": "sin", "floor": "ceil",
         "ceil": "floor", "exp": "expm1", "sqrt": "fabs", "fabs": "sqrt"}
RETURNS = {"return true;": "return false;", "return false;": "return true;",
           "return RIG_OK;": "return RIG_NO_SOLUTION;"}
TOKEN = re.compile(r"""
    (?P<skip>/\*.*?\*/|//[^\n]*|^[ \t]*\#(?:[^\n]*\\\n)*[^\n]*|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'
      |\b(?:assert|static_assert|_Static_assert)\s*\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)
      |\bsizeof\b[^;,]*)
    |(?P<return>return\ (?:true|false|RIG_OK);)
    |(?P<condition>\b(?:if|while)\ \()
    |(?P<number>(?<![\w.])(?:0[xX][0-9a-fA-F.]+(?:[pP][+-]?\d+)?|\d+\.?\d*(?:[eE][+-]?\d+)?)[uUlLfF]*)
    |(?P<word>[A-Za-z_]\w*)
    |(?P<operator>(?<=[ \t\n])(?:<=|>=|==|!=|&&|\|\||[-+*/]=|[-+*/%<>])(?=[ \n]))
    |(?P<not>!(?=[\w(]))""", re.X | re.S | re.M)


class Fault:
    def __init__(self, path, text, start, end, new):
        self.path, self.text = path, text
        self.start, self.end, self.new = start, end, new
        self.old = text[start:end]
        self.line = text.count("\n", 0, start) + 1
        first, last = text.rfind("\n", 0, start) + 1, text.find("\n", start)
        self.source = " ".join(text[first:last].split())
        # Which of its like on the line it is, so that a listed survivor is found again.
        self.nth = text[first:start].count(self.old) + 1
        self.fate = None

    @property
    def room(self):
        return self.path.split("/")[1]

    @property
    def noun(self):
        return os.path.basename(self.path)[:-2]

    def changed_text(self):
        return self.text[:self.start] + self.new + self.text[self.end:]

    def key(self):
        return "%s | %s | %s #%d -> %s" % (self.path, self.source, self.old, self.nth, self.new)

    def __str__(self):
        return "%s:%d: %s -> %s   %s" % (self.path, self.line, self.old, self.new, self.source)


def _closing(text, at):
    """Where the parenthesis that opens at `at` is closed."""
    depth = 0
    for i in range(at, len(text)):
        depth += {"(": 1, ")": -1}.get(text[i], 0)
        if depth == 0:
            return i
    raise ValueError("unbalanced")


def _other_number(number):
    if number.lower().startswith("0x"):
        return "(%s + 1)" % number
    body = number.rstrip("uUlLfF")
    if re.fullmatch(r"\d+", body):
        return str(int(body) + 1) + number[len(body):]
    value = float(body)
    return repr(value * 1.1 if value != 0 else 1.0)


def _change(text, token):
    """Where a token is changed and into what; None: it is not."""
    kind, word, start, end = token.lastgroup, token.group(), token.start(), token.end()
    if kind == "operator":
        return start, end, SWAPS[word]
    if kind == "number":
        return start, end, _other_number(word)
    if kind == "word" and word in WORDS and text[end:end + 1] == "(":
        return start, end, WORDS[word]
    if kind == "return":
        return start, end, RETURNS[word]
    if kind == "condition" and word.startswith("if"):
        close = _closing(text, end - 1)
        return end, close, "!(%s)" % text[end:close]
    if kind == "not":
        return start, end, ""
    return None


def faults_of(path):
    text = open(os.path.join(TOP, path), encoding="utf-8").read()
    changes = (_change(text, token) for token in TOKEN.finditer(text))
    return [Fault(path, text, *change) for change in changes if change is not None]
