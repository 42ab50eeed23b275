# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes a program with a fault in it and puts it to the judges."""
import os
import shlex
import subprocess
import threading

from faults import TOP
from judges import COUNTED, DEAR_S, RELEASE


def _near(judge, fault):
    """How many words of its noun a judge shares with the file: `shed_volts` and `shed_run`: one."""
    own = os.path.commonprefix([judge.noun + "_", fault.noun + "_"])
    return own.count("_")


class Record:
    """Who killed how many faults of a file: those who see much for little time go first."""

    def __init__(self):
        self.lock, self.asked, self.killed = threading.Lock(), {}, {}

    def add(self, fault, judge, killed):
        with self.lock:
            key = fault.path, judge.name
            self.asked[key] = self.asked.get(key, 0) + 1
            self.killed[key] = self.killed.get(key, 0) + killed

    def promise(self, fault, judge, cpu_s):
        key = fault.path, judge.name
        guess = 1 + _near(judge, fault) if _near(judge, fault) else 0.3
        return (guess + self.killed.get(key, 0)) / (1 + self.asked.get(key, 0)) / (0.2 + cpu_s)


class Bench:
    def __init__(self, number, commands, reach, record):
        self.folder = os.path.join(COUNTED, "bench%d-%d" % (os.getpid(), number))
        os.makedirs(self.folder, exist_ok=True)
        self.commands, self.reach, self.record, self.plain = commands, reach, record, {}

    def _compile(self, path, text):
        source, made = (os.path.join(self.folder, "fault" + end) for end in (".c", ".o"))
        with open(source, "w", encoding="utf-8") as file:
            file.write(text)
        words = [word for word in self.commands[path]
                 if not word.startswith(("-W", "-O")) and "ccache" not in word]
        # As in the sanitized build: wrong calls are asserted.
        words = words[:words.index("-o")] + ["-O1", "-UNDEBUG", "-w", "-I", os.path.dirname(
            os.path.join(TOP, path)), "-o", made, "-c", source]
        if subprocess.run(words, capture_output=True).returncode != 0:
            return None
        return open(made, "rb").read()

    def _link(self, program):
        folder, target = program
        folder = os.path.join(RELEASE, folder)
        made = [name for name in os.listdir(os.path.join(folder, "CMakeFiles"))
                if name in (target + ".dir", target + "-program.dir")]
        words = shlex.split(open(os.path.join(folder, "CMakeFiles", made[0], "link.txt")).read())
        at, into = words.index("-o"), os.path.join(self.folder, target)
        words = words[:at] + [os.path.join(self.folder, "fault.o"), "-fuse-ld=gold", "-o", into] + \
            words[at + 2:]
        subprocess.run(words, cwd=folder, capture_output=True, check=True)
        return into

    def judge(self, fault, outer=True):
        """(fate, who): killed by the inner judges or only further out; unreached; survives; same as
        the program is; none, since it does not compile."""
        judges = self.reach.of(fault)
        if not judges:
            return "unreached", None
        if fault.path not in self.plain:
            self.plain[fault.path] = self._compile(fault.path, fault.text)
        made = self._compile(fault.path, fault.changed_text())
        if made is None or made == self.plain[fault.path]:
            return ("none" if made is None else "same"), None
        linked = {}
        for inner in (True, False) if outer else (True,):
            asked = [judge for judge in judges if judge.inner == inner and
                     (_near(judge, fault) or self.reach.cpu_s(judge) <= DEAR_S)]
            asked.sort(key=lambda judge: -self.record.promise(fault, judge,
                                                              self.reach.cpu_s(judge)))
            for judge in asked:
                if judge.program not in linked:
                    linked[judge.program] = self._link(judge.program)
                passes = judge.passes(linked[judge.program],
                                      int(10 * self.reach.cpu_s(judge)) + 2)
                self.record.add(fault, judge, not passes)
                if not passes:
                    return ("killed" if inner else "killed outside"), judge.name
        return "survives", None
