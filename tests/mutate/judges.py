# SPDX-License-Identifier: GPL-3.0-or-later
"""Who tells whether a fault is seen: cases of the check programs, and the commands with what they
are to print. Each knows what lines it runs and what it costs."""
import hashlib
import json
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile

from faults import TOP

RELEASE, COUNTED = (os.path.join(TOP, "build", name) for name in ("release", "mutate"))
# Check programs: (room of the tests, program, what it judges beside its own room). The tests of the
# studies and of what they stand on, the laws and the failing of each allocation state what is true;
# those of report and answer and the commands stand further out: what they see may be no more than
# that a figure is another.
INNER = [("studies", "studies"), ("studies", "stays"), ("physics", "physics"),
         ("weather", "weather"), ("energy", "energy"), ("property", "property"),
         ("property", "property_time"),
         ("faults", "faults")]
OUTER = [("report", "report"), ("answer", "answer")]
# The laws are asked of every so many coaches only.
EVERY_NTH_COACH = "20"
# A judge of another noun that takes longer than this, in CPU seconds, is not asked.
DEAR_S = 7


def _limit(cpu_s):
    def apply():
        resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s + 1))
        resource.setrlimit(resource.RLIMIT_AS, (2 << 30, 2 << 30))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_FSIZE, (1 << 28, 1 << 28))
    return apply


def _run(words, cpu_s, environment, output=subprocess.DEVNULL):
    """The exit status; None: it ran for too long. cpu_s bounds each process of it."""
    run = subprocess.Popen(words, env=environment, preexec_fn=_limit(cpu_s), cwd=TOP,
                           stdin=subprocess.DEVNULL, start_new_session=True,
                           stdout=output, stderr=subprocess.DEVNULL if output != subprocess.PIPE
                           else subprocess.PIPE)
    try:
        out = run.communicate(timeout=20 * cpu_s + 60)
        return run.returncode, out
    except subprocess.TimeoutExpired:
        os.killpg(run.pid, 9)
        run.communicate()
        return None, (b"", b"")


class Case:
    """A case of a suite of a check program."""

    def __init__(self, room, program, noun, suite, case):
        self.name = "/".join((program, suite, case))
        self.room, self.noun, self.suite, self.case = room, noun, suite, case
        self.program = (os.path.join("tests", room), "test_" + program)
        self.inner = (room, program) in INNER
        self.source = os.path.join(TOP, "tests", room, "test_%s.c" % noun)

    def passes(self, program, cpu_s, **more):
        environment = dict(os.environ, CK_FORK="no", CK_RUN_SUITE=self.suite,
                           CK_RUN_CASE=self.case, RIG_EVERY_NTH_COACH=EVERY_NTH_COACH, **more)
        environment.pop("RIG_VALIDATION", None)
        return _run([program], cpu_s, environment)[0] == 0


class Command:
    """A case of tests/cli, with what it is to print."""

    program = (os.path.join("src", "cli"), "rigbudget")
    inner, room, noun = False, "cli", ""

    def __init__(self, folder):
        self.name = "command/" + os.path.basename(folder)
        self.folder, self.source = folder, os.path.join(folder, "command")

    def _expected(self, name, otherwise):
        path = os.path.join(self.folder, name)
        return open(path, "rb").read() if os.path.exists(path) else otherwise

    def passes(self, program, cpu_s, **more):
        work = tempfile.mkdtemp(prefix="mutate-")
        try:
            os.symlink(program, os.path.join(work, "rigbudget"))
            environment = dict(os.environ, PATH=work + ":" + os.environ["PATH"], LC_ALL="C",
                               NO_COLOR="1", TMP_CASE=work, **more)
            status, (out, err) = _run(["bash", self.source], cpu_s, environment, subprocess.PIPE)
            if status != int(self._expected("status", b"0")):
                return False
            return os.path.exists(os.path.join(self.folder, "any-output")) or (
                out == self._expected("stdout", b"") and err == self._expected("stderr", b""))
        finally:
            shutil.rmtree(work)


def _cases(room, program):
    main = open(os.path.join(RELEASE, "tests", room, "main_%s.c" % program)).read()
    for noun in re.findall(r"srunner_add_suite\(runner, (\w+)_suite\(\)\)", main):
        source = open(os.path.join(TOP, "tests", room, "test_%s.c" % noun)).read()
        suite = re.search(r'suite_create\("([^"]+)"\)', source).group(1)
        for case in re.findall(r'tcase_create\("([^"]+)"\)', source):
            yield Case(room, program, noun, suite, case)


def all_judges():
    judges = [case for room, program in INNER + OUTER for case in _cases(room, program)]
    commands = os.path.join(TOP, "tests", "cli")
    judges += [Command(os.path.join(commands, name)) for name in sorted(os.listdir(commands))
               if os.path.exists(os.path.join(commands, name, "command"))]
    return judges


def targets():
    return ["test_" + program for _, program in INNER + OUTER] + ["rigbudget-program"]


def _digest(path):
    return hashlib.sha256(open(path, "rb").read()).hexdigest()


def _sources():
    return {os.path.relpath(os.path.join(folder, name), TOP): _digest(os.path.join(folder, name))
            for room in ("physics", "studies")
            for folder, _, names in os.walk(os.path.join(TOP, "src", room))
            for name in names if name.endswith(".c")}


def _cpu_s():
    of = resource.getrusage(resource.RUSAGE_CHILDREN)
    return of.ru_utime + of.ru_stime


def _counted_lines(folder):
    """{file: {line: whether it was run}} of the counters that a run left in the folder."""
    counters = [os.path.join(at, name) for at, _, files in os.walk(folder)
                for name in files if name.endswith(".gcda")
                if "/src/physics/" in at or "/src/studies/" in at]
    lines = {}
    for counter in counters:  # gcov wants the notes beside the counters
        notes = os.path.join("/", os.path.relpath(counter, folder))[:-5] + ".gcno"
        os.symlink(notes, counter[:-5] + ".gcno")
    if not counters:
        return lines
    out = subprocess.run(["gcov", "--json-format", "--stdout", *counters], capture_output=True,
                         text=True, cwd=folder, check=True).stdout
    for part in map(json.loads, out.splitlines()):
        for file in part["files"]:
            # A compiler cache may have kept the name from another folder.
            path = re.search(r"(src/\w+/\w+\.[ch])?$", file["file"]).group(1)
            if path is None:
                continue
            seen = lines.setdefault(path, {})
            for line in file["lines"]:
                number = line["line_number"]
                seen[number] = seen.get(number, False) or line["count"] > 0
    return {path: seen for path, seen in lines.items() if any(seen.values())}


def _measured(judge):
    folder = tempfile.mkdtemp(prefix="mutate-")
    try:
        built = [os.path.join(at, *judge.program) for at in (RELEASE, COUNTED)]
        before = _cpu_s()
        sound = judge.passes(built[0], 600)
        cpu_s = _cpu_s() - before
        judge.passes(built[1], 600, GCOV_PREFIX=folder)
        lines = _counted_lines(folder)
    finally:
        shutil.rmtree(folder)
    return {"sound": sound, "cpu_s": cpu_s,
            "ran": {path: [line for line, run in seen.items() if run]
                    for path, seen in lines.items()},
            "idle": {path: [line for line, run in seen.items() if not run]
                     for path, seen in lines.items()}}


class Reach:
    """What the judges run. Kept in build/mutate: a judge is measured anew when its own file changes;
    of a source that changed since, a judge that ran any of it counts as running all of it."""

    def __init__(self, judges, afresh, build_counted):
        kept = os.path.join(COUNTED, "reached.json")
        known = json.load(open(kept)) if os.path.exists(kept) and not afresh else {}
        self.judges, self.of_name, self.sources = [], {}, _sources()
        built = False
        for judge in judges:
            state = _digest(judge.source)
            if known.get(judge.name, {}).get("state") != state:
                if not built:
                    build_counted()
                built = True
                known[judge.name] = dict(_measured(judge), state=state, sources=self.sources)
                with open(kept + ".new", "w", encoding="utf-8") as file:
                    json.dump(known, file)
                os.replace(kept + ".new", kept)
            if known[judge.name]["sound"]:
                self.judges.append(judge)
                self.of_name[judge.name] = known[judge.name]
            else:
                print("not asked, it fails on the program as it is: " + judge.name,
                      file=sys.stderr)
        self.sets = {name: {path: set(ran) for path, ran in of["ran"].items()}
                     for name, of in self.of_name.items()}

    def _fresh(self, name, path):
        return self.of_name[name]["sources"].get(path) == self.sources[path]

    def _has_code(self, path, line):
        """Whether the counted build counts the line; if none of the judges is fresh: unknown."""
        return any(line in self.sets[name][path] or line in of["idle"][path]
                   for name, of in self.of_name.items()
                   if path in self.sets[name] and self._fresh(name, path))

    def of(self, fault):
        """The judges that run the line; of one without code of its own, as in a table, those that
        run the file."""
        counted = self._has_code(fault.path, fault.line)
        return [judge for judge in self.judges
                if fault.path in self.sets[judge.name] and (
                    not counted or not self._fresh(judge.name, fault.path) or
                    fault.line in self.sets[judge.name][fault.path])]

    def cpu_s(self, judge):
        return self.of_name[judge.name]["cpu_s"]
