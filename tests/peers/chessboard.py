"""Corners, homographies and lens mapping of the chessboard photographs, as OpenCV sees them.

Run in an environment with opencv-python-headless: python tests/peers/chessboard.py
Writes tests/data/chessboard/corners.json, which tests/tests/chessboard.rs checks the core against.
"""

import json
import pathlib

import cv2
import numpy as np

SQUARE_MM = 25.0
COLUMNS, ROWS = 9, 6
FOLDER = pathlib.Path(__file__).parent.parent / "data" / "chessboard"


def board():
    """Corner positions in mm, x right and y down the board, row by row."""
    return np.array([(x * SQUARE_MM, y * SQUARE_MM) for y in range(ROWS) for x in range(COLUMNS)])


def photograph(path):
    grey = cv2.imread(str(path), cv2.IMREAD_GRAYSCALE)
    found, corners = cv2.findChessboardCorners(grey, (COLUMNS, ROWS))
    assert found, path
    stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 60, 1e-4)
    corners = cv2.cornerSubPix(grey, corners, (5, 5), (-1, -1), stop).reshape(-1, 2)
    outermost = [0, COLUMNS - 1, COLUMNS * ROWS - 1, COLUMNS * (ROWS - 1)]
    h, _ = cv2.findHomography(board()[outermost].astype(np.float64), corners[outermost].astype(np.float64))
    height, width = grey.shape
    return {
        "photo": path.name,
        "size_px": [width, height],
        "corners_px": corners.astype(float).tolist(),
        "outermost_homography": h.tolist(),
    }


def lens(k1, width, height):
    """OpenCV's radial term maps as ours undistorts, in units of the half diagonal."""
    half = np.hypot(width, height) / 2
    c = np.array([(width - 1) / 2, (height - 1) / 2])
    camera = np.array([[half, 0, c[0]], [0, half, c[1]], [0, 0, 1.0]])
    grid = np.array([(x, y) for y in np.linspace(0, height - 1, 5) for x in np.linspace(0, width - 1, 5)])
    rays = np.column_stack([(grid - c) / half, np.ones(len(grid))])
    there, _ = cv2.projectPoints(rays, np.zeros(3), np.zeros(3), camera, np.array([k1, 0, 0, 0.0]))
    return {"k1": k1, "size_px": [width, height], "px": grid.tolist(), "undistorted_px": there.reshape(-1, 2).tolist()}


def main():
    photos = [photograph(p) for p in sorted(FOLDER.glob("left*.jpg"))]
    out = {"opencv": cv2.__version__, "photos": photos, "lens": lens(-0.03, 4032, 3024)}
    (FOLDER / "corners.json").write_text(json.dumps(out) + "\n")


if __name__ == "__main__":
    main()
