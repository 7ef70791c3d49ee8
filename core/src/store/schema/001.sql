-- Version 1 of a workshop file. Ids are never reused: nothing in these tables is deleted.
-- A JSON column holds something that is always read and written whole and never searched.
-- Times are epoch milliseconds, lengths millimetres unless the name says otherwise.

CREATE TABLE kit (
    id    INTEGER PRIMARY KEY,
    kit   TEXT NOT NULL,               -- JSON: KitDraft, checked before it was written
    owned TEXT NOT NULL                -- JSON: sets owned per counted pair
) STRICT;

CREATE TABLE bow (
    id              INTEGER PRIMARY KEY,
    name            TEXT NOT NULL,
    owner           TEXT NOT NULL,
    hand            TEXT NOT NULL,
    axle_to_axle_mm REAL NOT NULL,
    brace_height_mm REAL,
    draw_weight_n   REAL,
    draw_length_mm  REAL,
    top_weight      REAL NOT NULL,
    cam_note        TEXT NOT NULL,
    kit_id          INTEGER REFERENCES kit (id),
    priority        TEXT NOT NULL,    -- JSON: what should come together first
    tolerance_mm    REAL,
    tolerance_distance_m REAL,
    notes           TEXT NOT NULL,
    added_ms        INTEGER NOT NULL,
    used_ms         INTEGER NOT NULL,
    archived_ms     INTEGER             -- set while the bow is off the rack; its pieces stay in it
) STRICT;
CREATE INDEX bow_by_use ON bow (used_ms DESC);
CREATE INDEX bow_by_kit ON bow (kit_id);

CREATE TABLE arrow_setup (
    id     INTEGER PRIMARY KEY,
    bow_id INTEGER NOT NULL REFERENCES bow (id),
    name   TEXT NOT NULL,
    setup  TEXT NOT NULL               -- JSON: flight::ArrowSetup
) STRICT;
CREATE INDEX arrow_setup_by_bow ON arrow_setup (bow_id);

CREATE TABLE verdict (
    id            INTEGER PRIMARY KEY,
    bow_id        INTEGER NOT NULL REFERENCES bow (id),
    fitting_id    INTEGER NOT NULL REFERENCES fitting (id),
    last_trial_id INTEGER REFERENCES trial (id),  -- the newest trial it used
    outcome       TEXT NOT NULL,       -- fit, keep, shoot_more, adjust_first
    more          TEXT,                -- JSON: arrows still wanted, for shoot_more
    given         TEXT NOT NULL,       -- JSON: the whole verdict and the trials it used
    at_ms         INTEGER NOT NULL
) STRICT;
CREATE INDEX verdict_by_bow ON verdict (bow_id, id);

-- Append-only: what is fitted is the entry with the largest id. A correction names the entry it
-- corrects; a trial shot on that entry counts as shot on the correction.
CREATE TABLE fitting (
    id           INTEGER PRIMARY KEY,
    bow_id       INTEGER NOT NULL REFERENCES bow (id),
    kit_id       INTEGER NOT NULL REFERENCES kit (id),
    top_pair     TEXT NOT NULL,
    top_thick    TEXT NOT NULL,
    bottom_pair  TEXT NOT NULL,
    bottom_thick TEXT NOT NULL,
    reason       TEXT NOT NULL,
    verdict_id   INTEGER REFERENCES verdict (id),
    corrects_id  INTEGER REFERENCES fitting (id),
    at_ms        INTEGER NOT NULL
) STRICT;
CREATE INDEX fitting_by_bow ON fitting (bow_id, id);
CREATE TRIGGER fitting_is_append_only BEFORE UPDATE ON fitting
BEGIN SELECT RAISE(ABORT, 'the list of fittings is append-only'); END;

CREATE TABLE setup_check (
    id       INTEGER PRIMARY KEY,
    bow_id   INTEGER NOT NULL REFERENCES bow (id),
    item     TEXT NOT NULL,
    state    TEXT NOT NULL,
    measured REAL,
    note     TEXT NOT NULL,
    at_ms    INTEGER NOT NULL
) STRICT;
CREATE INDEX setup_check_by_bow ON setup_check (bow_id, item, id);

CREATE TABLE setup_change (
    id       INTEGER PRIMARY KEY,
    bow_id   INTEGER NOT NULL REFERENCES bow (id),
    kind     TEXT NOT NULL,
    value_mm REAL,
    note     TEXT NOT NULL,
    at_ms    INTEGER NOT NULL
) STRICT;
CREATE INDEX setup_change_by_bow ON setup_change (bow_id, id);

CREATE TABLE trial (
    id             INTEGER PRIMARY KEY,
    bow_id         INTEGER NOT NULL REFERENCES bow (id),
    fitting_id     INTEGER NOT NULL REFERENCES fitting (id),
    arrow_setup_id INTEGER REFERENCES arrow_setup (id),
    surface        TEXT NOT NULL,
    distance_m     REAL NOT NULL,
    rest_mm        REAL NOT NULL,
    nock_mm        REAL NOT NULL,
    epoch          INTEGER NOT NULL,
    marks          TEXT NOT NULL,      -- JSON: impacts, tears, photo, plane facts, note
    at_ms          INTEGER NOT NULL
) STRICT;
CREATE INDEX trial_by_bow ON trial (bow_id, id);

-- At most one swap is under way on a bow; the row goes when the swap ends.
CREATE TABLE swap (
    bow_id     INTEGER PRIMARY KEY REFERENCES bow (id),
    swap       TEXT NOT NULL,          -- JSON: swap::Swap
    reason     TEXT NOT NULL,
    verdict_id INTEGER REFERENCES verdict (id),
    started_ms INTEGER NOT NULL,
    touched_ms INTEGER NOT NULL
) STRICT;

CREATE TABLE camera (
    camera TEXT PRIMARY KEY,
    k1     REAL NOT NULL,
    at_ms  INTEGER NOT NULL
) STRICT;

CREATE TABLE settings (
    id       INTEGER PRIMARY KEY CHECK (id = 1),
    settings TEXT NOT NULL             -- JSON: WorkshopSettings
) STRICT;
