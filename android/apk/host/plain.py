"""Classes with names that have no spaces and no commas, for tools that refuse what Kotlin lets a test be called.

plain.py FROM.jar TO.jar: what a name may not have in a dex file becomes underscores, in every constant. Good to be read,
not to be run.
"""

import struct
import sys
import zipfile

# Bytes after the tag of each kind of constant (The Java Virtual Machine Specification, table 4.4-A).
SIZES = {3: 4, 4: 4, 5: 8, 6: 8, 7: 2, 8: 2, 9: 4, 10: 4, 11: 4, 12: 4, 15: 3, 16: 2, 17: 4, 18: 4, 19: 2, 20: 2}
TEXT, WIDE = 1, (5, 6)
# What names between backticks hold and those of a dex file may not; descriptors have none of it.
PLAIN = bytes.maketrans(b" ,'", b"___")


def plain(data: bytes) -> bytes:
    """The class file `data` with plain names."""
    out = bytearray(data)
    (count,) = struct.unpack_from(">H", data, 8)
    at, number = 10, 1
    while number < count:
        tag = data[at]
        if tag == TEXT:
            (size,) = struct.unpack_from(">H", data, at + 1)
            out[at + 3 : at + 3 + size] = data[at + 3 : at + 3 + size].translate(PLAIN)
            at += 3 + size
        else:
            at += 1 + SIZES[tag]
        number += 2 if tag in WIDE else 1
    return bytes(out)


def main(source: str, target: str) -> None:
    with zipfile.ZipFile(source) as read, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as write:
        for name in read.namelist():
            if name.endswith(".class"):
                write.writestr(name.replace(" ", "_"), plain(read.read(name)))


if __name__ == "__main__":
    main(*sys.argv[1:])
