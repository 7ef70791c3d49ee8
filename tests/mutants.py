"""Mutants of the core, all in one build: each is a branch that the environment switches on, and every one is put to the tests.

    python tests/mutants.py LIST TREE EVERY FROM -- TEST_OPTIONS

LIST is what `cargo mutants --list --json` said of the tree TREE, a copy that may be written to. Every EVERYth mutant is tried,
beginning with number FROM. Mutants that do not compile are none; one that ends in no time was noticed.
"""

import collections
import json
import os
import pathlib
import re
import signal
import subprocess
import sys
import threading
import time

import tree_sitter
import tree_sitter_rust

SWITCH = "crate::mutant::on"
MODULE = """//! Which mutant is switched on.
/// Whether it is this one.
#[inline(never)]
pub(crate) fn on(id: usize) -> bool {
    static WHICH: std::sync::OnceLock<Option<usize>> = std::sync::OnceLock::new();
    *WHICH.get_or_init(|| std::env::var("MUTANT").ok().and_then(|id| id.parse().ok())) == Some(id)
}
"""
NO_CALLS = {"const_item", "static_item", "match_pattern", "range_pattern"}
BAR_PERCENT = 85
PARSER = tree_sitter.Parser(tree_sitter.Language(tree_sitter_rust.language()))


def offset(text, place):
    """Bytes from the beginning to a line and column (in characters, from 1)."""
    lines = text.split("\n")
    before = "\n".join(lines[: place["line"] - 1] + [lines[place["line"] - 1][: place["column"] - 1]])
    return len(before.encode())


def ancestors(node):
    while node is not None:
        yield node
        node = node.parent


def carrier(root, mutant, start, end):
    """The node that a mutant's branch goes around, or None where none can stand."""
    kinds = {
        "BinaryOperator": {"binary_expression", "compound_assignment_expr"},
        "UnaryOperator": {"unary_expression"},
        "MatchArm": {"match_arm"},
        "MatchArmGuard": {"match_pattern"},
        "StructField": {"struct_expression"},
        "FnValue": {"function_item"},
    }[mutant["genre"]]
    found = next((node for node in ancestors(root.descendant_for_byte_range(start, end - 1)) if node.type in kinds), None)
    if found is None:
        return None
    for node in ancestors(found):
        constant = node.type == "function_item" and any(
            child.type == "function_modifiers" and b"const" in child.text for child in node.children
        )
        if constant or (node != found and node.type in NO_CALLS):
            return None
    return found


class File:
    """One source file with the mutants that stand in it."""

    def __init__(self, path):
        self.path = path
        self.text = path.read_text()
        self.bytes = self.text.encode()
        self.root = PARSER.parse(self.bytes).root_node
        self.branches = collections.defaultdict(list)

    def add(self, number, mutant):
        start, end = (offset(self.text, mutant["span"][side]) for side in ("start", "end"))
        node = carrier(self.root, mutant, start, end)
        if node is not None:
            self.branches[node.start_byte, node.end_byte, node.type].append((number, mutant, start, end))
        return node is not None

    def write(self, dropped):
        self.dropped = dropped
        self.path.write_text(self.plain(self.root))

    def plain(self, node, without=None):
        """The node's text with all branches below it, without the child that stands at a place."""
        out, at = [], node.start_byte
        for child in node.children:
            out.append(self.bytes[at : child.start_byte].decode())
            at = child.end_byte
            if without is None or not (child.start_byte <= without < child.end_byte):
                out.append(self.render(child))
            elif child.children and child.type == "field_initializer_list":
                out.append(self.plain(child, without))
            elif self.bytes[at : at + 1] == b",":
                at += 1
        return "".join(out) + self.bytes[at : node.end_byte].decode()

    def render(self, node):
        here = self.branches.get((node.start_byte, node.end_byte, node.type), [])
        here = [branch for branch in here if branch[0] not in self.dropped]
        text = self.plain(node)
        if not here:
            return text
        return getattr(self, "around_" + node.type)(node, text, here)

    def choice(self, text, branches):
        arms = "".join(f"if {SWITCH}({number}) {{ {other} }} else " for number, other in branches)
        return f"({arms}{{ {text} }})"

    def around_binary_expression(self, node, text, here):
        left, right = self.render(node.children[0]), self.render(node.children[2])
        return self.choice(text, [(number, f"{left} {mutant['replacement']} {right}") for number, mutant, *_ in here])

    around_compound_assignment_expr = around_binary_expression

    def around_unary_expression(self, node, text, here):
        return self.choice(text, [(number, self.render(node.children[-1])) for number, *_ in here])

    def around_struct_expression(self, node, text, here):
        return self.choice(text, [(number, self.plain(node, without=start)) for number, _, start, _ in here])

    def around_match_pattern(self, node, _text, here):
        guard = node.child_by_field_name("condition")
        pattern = self.bytes[node.start_byte : guard.start_byte].decode()
        condition = self.render(guard)
        for number, mutant, *_ in here:
            forced = f"{SWITCH}({number}) ||" if mutant["replacement"] == "true" else f"!{SWITCH}({number}) &&"
            condition = f"{forced} ({condition})"
        return pattern + condition

    def around_match_arm(self, node, text, here):
        pattern = node.child_by_field_name("pattern")
        rest = text[len(self.render(pattern)) :] if node.children[0] == pattern else None
        number = here[0][0]
        condition = pattern.child_by_field_name("condition")
        if rest is None:
            return text
        if condition is None:
            return f"{self.render(pattern)} if !{SWITCH}({number}) {rest}"
        return f"{self.bytes[pattern.start_byte : condition.start_byte].decode()}!{SWITCH}({number}) && ({self.render(condition)}) {rest}"

    def around_function_item(self, node, _text, here):
        body = node.child_by_field_name("body")
        head = self.bytes[node.start_byte : body.start_byte].decode()
        returns = "".join(f"\nif {SWITCH}({number}) {{ return {mutant['replacement']}; }}\n" for number, mutant, *_ in here)
        return f"{head}{{{returns}{self.plain(body)[1:]}"


def cargo(tree, *arguments):
    out = subprocess.run(["cargo", *arguments, "--message-format=json"], cwd=tree, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    return out.returncode, [json.loads(line) for line in out.stdout.decode().splitlines() if line.startswith("{")]


def to_blame(tree, messages):
    """Mutants in which errors lie: of each error the last that begins before its end."""
    blamed, others = set(), []
    for message in messages:
        found = message.get("message", {})
        if found.get("level") != "error" or not found.get("spans"):
            continue
        before = set()
        for span in found["spans"]:
            source = (tree / span["file_name"]).read_bytes()
            lines = source.split(b"\n")
            begin = sum(len(line) + 1 for line in lines[: span["line_start"] - 1])
            switches = list(re.finditer(rb"mutant::on\((\d+)\)", source[begin : span["byte_end"]]))
            before |= {int(switches[-1][1])} if switches else set()
        blamed |= before
        others += [] if before else [found["rendered"]]
    return blamed, others


def compiled(tree, files):
    """Writes all branches, without those that do not compile, which it returns."""
    dropped = set()
    while True:
        for file in files:
            file.write(dropped)
        code, messages = cargo(tree, "check", "-p", "shimwright", "-p", "shimwright-reckon", "-p", "shimwright-sight")
        if code == 0:
            return dropped
        blamed, others = to_blame(tree, messages)
        if not blamed - dropped:
            sys.exit("\n".join(others) or "It does not compile, and no mutant is to blame.")
        dropped |= blamed


def programs(tree):
    """The test programs, each with the folder that its tests run in."""
    code, messages = cargo(
        tree, "test", "--no-run", "-p", "shimwright", "-p", "shimwright-reckon", "-p", "shimwright-sight", "-p", "shimwright-tests", "--lib", "--test", "all"
    )  # fmt: skip
    if code:
        sys.exit("The tests do not build.")
    made = [message for message in messages if message.get("executable") and message["profile"]["test"]]
    return [(message["executable"], pathlib.Path(message["manifest_path"]).parent) for message in made]


def notices(number, tests, options, limit_s):
    """What noticed a mutant: a test's name, or that there was no end to it; None where nothing did."""
    deadline = time.monotonic() + limit_s
    for program, folder in tests:
        run = subprocess.Popen(
            [program, *options], cwd=folder, env=os.environ | {"MUTANT": str(number)}, stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL, text=True, start_new_session=True,
        )  # fmt: skip
        end = threading.Timer(max(1, deadline - time.monotonic()), os.killpg, (run.pid, signal.SIGKILL))
        end.start()
        failed = next((line for line in run.stdout if line.rstrip().endswith("FAILED")), None)
        end.cancel()
        if failed:
            os.killpg(run.pid, signal.SIGKILL)
            run.wait()
            return failed.split()[1]
        if run.wait() != 0:
            return "no end" if time.monotonic() >= deadline - 1 else "a crash"
    return None


def main():
    listed, tree, every, first = json.load(open(sys.argv[1])), pathlib.Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])
    options = sys.argv[6:]
    files, chosen = {}, {}
    for number in range(first, len(listed), every):
        mutant = listed[number]
        file = files.setdefault(mutant["file"], File(tree / mutant["file"]))
        if file.add(number, mutant):
            chosen[number] = mutant["name"]
    for crate in ("core", "core/reckon", "core/sight"):
        (tree / crate / "src/mutant.rs").write_text(MODULE)
        lib = tree / crate / "src/lib.rs"
        lib.write_text(lib.read_text().replace("\npub mod ", "\nmod mutant;\npub mod ", 1))
    for number in compiled(tree, files.values()):
        chosen.pop(number, None)
    tests = programs(tree)
    begun = time.monotonic()
    if noticed := notices("none", tests, options, 3600):
        sys.exit(f"Without a mutant {noticed} fails.")
    limit_s = 60 + 5 * (time.monotonic() - begun)
    print(f"{len(chosen)} of {len(listed)} mutants; the tests take {time.monotonic() - begun:.0f} s without one", flush=True)
    missed = []
    for done, (number, name) in enumerate(chosen.items(), 1):
        by = notices(number, tests, options, limit_s)
        missed += [] if by else [name]
        print(f"{done - len(missed)}/{done} {name}: {by or 'NOT NOTICED'}", flush=True)
    share = 100 * (len(chosen) - len(missed)) / len(chosen)
    print(f"{share:.0f} % of {len(chosen)} noticed (bar {BAR_PERCENT})", *missed, sep="\n")
    sys.exit(share < BAR_PERCENT)


if __name__ == "__main__":
    main()
