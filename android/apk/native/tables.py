#!/usr/bin/env python3
"""Takes out of an object's table for unwinding what no panic can ever ask for, before it is linked.

Every function has an entry there, also each of the thousands of pieces that LLVM outlined; but a panic passes a function
only where that function has called something that panics. Where none of its calls ever leads to one, its entry is not
asked for. An entry is taken out by making its relocations void: lld leaves out what describes no function.

  tables.py OBJECT...     (ELF, 64 bits, little-endian, AArch64; changed in place)
"""

import mmap
import struct
import sys
from collections import defaultdict

# ELF for the Arm 64-bit Architecture: R_AARCH64_CALL26; JUMP26, CONDBR19 and TSTBR14, each of which may be a call in the last place.
CALL26, JUMPS = 283, (282, 280, 279)
# Where a panic comes from that this object does not hold: the unwinder, or Rust in another object.
OUTSIDE = ("_Unwind_", "_R", "_ZN")
RELA_BYTES = 24
SHT_SYMTAB, SHT_RELA, SHT_SYMTAB_SHNDX = 2, 4, 18
SHN_XINDEX, SHF_EXECINSTR = 0xFFFF, 4


class Elf:
    """Sections, symbols and relocations of an object."""

    def __init__(self, data):
        self.data = data
        (at,) = struct.unpack_from("<Q", data, 0x28)
        count, names = struct.unpack_from("<HH", data, 0x3C)
        first = struct.unpack_from("<IIQQQQIIQQ", data, at)
        # More sections than fit into the header's fields: the first section has their number.
        count, names = count or first[5], first[6] if names == SHN_XINDEX else names
        self.sections = [struct.unpack_from("<IIQQQQIIQQ", data, at + 64 * n) for n in range(count)]
        self.names = self.sections[names][4]
        self.relocated = {s[7]: s for s in self.sections if s[1] == SHT_RELA}
        self.symbols = self._symbols()

    def text(self, at):
        return self.data[at : self.data.find(b"\0", at)].decode()

    def name(self, section):
        return self.text(self.names + section[0])

    def _symbols(self):
        table = next(s for s in self.sections if s[1] == SHT_SYMTAB)
        far = next((s for s in self.sections if s[1] == SHT_SYMTAB_SHNDX), None)
        words, found = self.sections[table[6]][4], []
        for n in range(table[5] // 24):
            name, _, _, section, value, _ = struct.unpack_from("<IBBHQQ", self.data, table[4] + 24 * n)
            if section == SHN_XINDEX:
                (section,) = struct.unpack_from("<I", self.data, far[4] + 4 * n)
            found.append((words + name, section, value))
        return found

    def relocations(self, index):
        """(where it stands in the file, offset, kind, symbol, addend) of each."""
        table = self.relocated.get(index)
        for at in range(table[4], table[4] + table[5], RELA_BYTES) if table else ():
            offset, kind, symbol, addend = struct.unpack_from("<QIIq", self.data, at)
            yield at, offset, kind, symbol, addend


class Function:
    """What a section of code calls."""

    def __init__(self, elf, index):
        section = elf.sections[index]
        words = struct.unpack_from(f"<{section[5] // 4}I", elf.data, section[4])
        # BLR with its kin; BR may be a call in the last place, or a table of jumps.
        self.calls_unknown = any(w & 0xFEFFF000 == 0xD63F0000 or w & 0xFEFFFC1F == 0xD63F0000 for w in words)
        self.jumps_unknown = any(w & 0xFFFFFC1F == 0xD61F0000 for w in words)
        self.calls, self.jumps, targets = set(), set(), 0
        for _, _, kind, symbol, _ in elf.relocations(index):
            if kind == CALL26 or kind in JUMPS:
                (self.calls if kind == CALL26 else self.jumps).add(symbol)
                targets += kind == CALL26
        # A call without a relocation leads somewhere in its own section.
        if sum(w & 0xFC000000 == 0x94000000 for w in words) != targets:
            self.calls_unknown = True


def panicking(elf, functions):
    """The sections of code that a panic can come out of."""
    callers, found = defaultdict(set), set()
    for index, function in functions.items():
        if function.calls_unknown or function.jumps_unknown:
            found.add(index)
        for symbol in function.calls | function.jumps:
            name, section, _ = elf.symbols[symbol]
            if section in functions:
                callers[section].add(index)
            # Else only C is outside: SQLite and the phone's own. No panic comes out of those: what SQLite calls back is
            # `extern "C"`, where rusqlite catches a panic (its "functions") and Rust aborts on any other.
            if section == 0 and elf.text(name).startswith(OUTSIDE):
                found.add(index)
    for name, section, _ in elf.symbols:
        if section in functions and elf.text(name).startswith("_Unwind_"):
            found.add(section)
    left = list(found)
    while left:
        new = callers[left.pop()] - found
        found |= new
        left.extend(new)
    return found


def is_passed(elf, function, found):
    """Whether a panic can be under way while this function waits for a call."""
    into = (elf.symbols[symbol] for symbol in function.calls)
    return function.calls_unknown or any(s in found or (s == 0 and elf.text(n).startswith(OUTSIDE)) for n, s, _ in into)


def entries(elf, index):
    """Each function's entry: the places of its relocations, the first of which is the function."""
    section, relocations = elf.sections[index], defaultdict(list)
    starts, at = [], 0
    while at < section[5]:
        length, parent = struct.unpack_from("<II", elf.data, section[4] + at)
        if length == 0:
            break
        starts.append((at, at + 4 + length, parent != 0))
        at += 4 + length
    here = iter(starts)
    start, end, function = next(here, (0, 0, False))
    for relocation in sorted(elf.relocations(index), key=lambda r: r[1]):
        while relocation[1] >= end:
            start, end, function = next(here)
        if function:
            relocations[start].append(relocation)
    return relocations.values()


def lean(elf):
    """Voids what nobody asks for; how many entries there were, and how many are left."""
    code = {n for n, s in enumerate(elf.sections) if s[2] & SHF_EXECINSTR and s[5]}
    functions = {n: Function(elf, n) for n in code}
    found, all_of_them, void = panicking(elf, functions), 0, 0
    for index, section in enumerate(elf.sections):
        if elf.name(section) != ".eh_frame":
            continue
        for relocations in entries(elf, index):
            all_of_them += 1
            _, section_of, _ = elf.symbols[relocations[0][3]]
            if section_of in functions and not is_passed(elf, functions[section_of], found):
                void += 1
                for at, *_ in relocations:
                    elf.data[at + 8 : at + 16] = bytes(8)
    return all_of_them, all_of_them - void


def main():
    for path in sys.argv[1:]:
        with open(path, "r+b") as file, mmap.mmap(file.fileno(), 0) as data:
            elf = Elf(data)
            print(f"{path}: {'%d entries for unwinding, %d left' % lean(elf)}")


main()
