"""OpenCV's way from a JPEG to proposals beside the core's; see tests/peers/photo."""

import json
import pathlib
import platform
import statistics
import subprocess
import sys
import time

import cv2
import numpy as np

STAGES = ["decode", "preview", "warp", "propose", "total"]
MOST_RATIO = 0.8
MOST_MIB = 90.0


def chain(data, h, preview):
    """One run; times in ms: decode, half-size preview, straight-on picture, proposals, total."""
    marks = [time.perf_counter()]
    picture = cv2.imdecode(data, cv2.IMREAD_COLOR)
    marks.append(time.perf_counter())
    cv2.resize(picture, None, fx=0.5, fy=0.5, interpolation=preview)
    marks.append(time.perf_counter())
    straight = cv2.warpPerspective(picture, h, (1200, 1200), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP)
    marks.append(time.perf_counter())
    blobs(straight)
    marks.append(time.perf_counter())
    times = [1e3 * (b - a) for a, b in zip(marks, marks[1:])]
    return times + [sum(times)]


def blobs(straight):
    """Dark round spots, the usual way: median background, difference, threshold, components."""
    value = cv2.resize(straight.max(axis=2), (600, 600), interpolation=cv2.INTER_AREA)
    background = cv2.medianBlur(value, 31)
    dark = cv2.subtract(background, value)
    mask = (dark > 40).astype(np.uint8)
    mask = cv2.morphologyEx(mask, cv2.MORPH_OPEN, np.ones((3, 3), np.uint8))
    return cv2.connectedComponentsWithStats(mask)


def straight_to_photo(truth):
    """Pixels of the straight-on picture (1200 px over 400 mm) to those of the photograph."""
    step = 400.0 / 1200.0
    to_mm = np.array([[step, 0, -200 + step / 2], [0, -step, 200 - step / 2], [0, 0, 1]])
    return np.array(truth["homography"]) @ to_mm


def main():
    core, folder, repeats = sys.argv[1], pathlib.Path(sys.argv[2]), int(sys.argv[3])
    cv2.setNumThreads(1)
    h = straight_to_photo(json.loads((folder / "truth.json").read_text()))
    print(f"{platform.machine()}, OpenCV {cv2.__version__}, one thread, medians of {repeats}, ms")
    kept = True
    for name in ["light", "heavy"]:
        file = folder / f"{name}.jpg"
        data = np.frombuffer(file.read_bytes(), np.uint8)
        ours = json.loads(subprocess.check_output([core, "time", str(file), str(repeats)]))
        print(f"\n{name}: {data.size / 1e6:.2f} MB" + "".join(f"{s:>10}" for s in STAGES))
        print(f"  {'core':<16}" + "".join(f"{ours[s]:10.1f}" for s in STAGES))
        for words, preview in [("OpenCV, area", cv2.INTER_AREA), ("OpenCV, linear", cv2.INTER_LINEAR)]:
            runs = [chain(data, h, preview) for _ in range(repeats)]
            theirs = [statistics.median(r[i] for r in runs) for i in range(len(STAGES))]
            ratio = ours["total"] / theirs[-1]
            print(f"  {words:<16}" + "".join(f"{t:10.1f}" for t in theirs) + f"   core / this {ratio:.2f}")
            kept &= ratio <= MOST_RATIO or preview != cv2.INTER_AREA
        memory = json.loads(subprocess.check_output([core, "peak", str(file)]))
        print(f"  largest resident size of the core {memory['peak_mib']:.0f} MiB (bar {MOST_MIB:.0f})")
        kept &= memory["peak_mib"] <= MOST_MIB
    print(f"\nbar: core / area-filtered chain <= {MOST_RATIO}: {'kept' if kept else 'MISSED'}")
    sys.exit(0 if kept else 1)


if __name__ == "__main__":
    main()
