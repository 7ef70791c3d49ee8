-- Every row gets an id that no other phone gives (uid, 16 bytes) and the logical time it was born at;
-- what can change also has the logical time of its last change and the id of that write, so that of two
-- changes made apart the later stands whichever file is merged into which. Run with `uid_of`, which makes
-- an id from what stands in an older row, so that two copies of one file agree; and without triggers.

-- Follows the clock on the wall and never goes back.
CREATE TABLE clock (
    id   INTEGER PRIMARY KEY CHECK (id = 1),
    tick INTEGER NOT NULL CHECK (tick BETWEEN 0 AND 99999999999999)
) STRICT;

ALTER TABLE kit ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE kit ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
ALTER TABLE kit ADD COLUMN tick INTEGER NOT NULL DEFAULT 0;
ALTER TABLE kit ADD COLUMN mark BLOB;
UPDATE kit SET uid = uid_of('kit', id, kit, owned), born = id;
UPDATE kit SET tick = born, mark = uid;
CREATE UNIQUE INDEX kit_by_uid ON kit (uid);

ALTER TABLE bow ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE bow ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
ALTER TABLE bow ADD COLUMN tick INTEGER NOT NULL DEFAULT 0;
ALTER TABLE bow ADD COLUMN mark BLOB;
UPDATE bow SET uid = uid_of('bow', id, added_ms, name, owner),
    born = (SELECT max(added_ms) FROM bow AS o WHERE o.id <= bow.id) + id;
UPDATE bow SET tick = born, mark = uid;
CREATE UNIQUE INDEX bow_by_uid ON bow (uid);

ALTER TABLE arrow_setup ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE arrow_setup ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
ALTER TABLE arrow_setup ADD COLUMN tick INTEGER NOT NULL DEFAULT 0;
ALTER TABLE arrow_setup ADD COLUMN mark BLOB;
UPDATE arrow_setup SET uid = uid_of('arrow_setup', id, bow_id, name, setup), born = id;
UPDATE arrow_setup SET tick = born, mark = uid;
CREATE UNIQUE INDEX arrow_setup_by_uid ON arrow_setup (uid);

ALTER TABLE trial ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE trial ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
ALTER TABLE trial ADD COLUMN tick INTEGER NOT NULL DEFAULT 0;
ALTER TABLE trial ADD COLUMN mark BLOB;
UPDATE trial SET uid = uid_of('trial', id, bow_id, at_ms, marks),
    born = o.born FROM (SELECT id AS o_id, max(at_ms) OVER (ORDER BY id) + id AS born FROM trial) AS o
    WHERE o_id = id;
UPDATE trial SET tick = born, mark = uid;
CREATE UNIQUE INDEX trial_by_uid ON trial (uid);

ALTER TABLE verdict ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE verdict ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
UPDATE verdict SET uid = uid_of('verdict', id, bow_id, at_ms, given),
    born = o.born FROM (SELECT id AS o_id, max(at_ms) OVER (ORDER BY id) + id AS born FROM verdict) AS o
    WHERE o_id = id;
CREATE UNIQUE INDEX verdict_by_uid ON verdict (uid);

ALTER TABLE fitting ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE fitting ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
UPDATE fitting SET uid = uid_of('fitting', id, bow_id, at_ms, top_pair, top_thick, bottom_pair, bottom_thick),
    born = o.born FROM (SELECT id AS o_id, max(at_ms) OVER (ORDER BY id) + id AS born FROM fitting) AS o
    WHERE o_id = id;
CREATE UNIQUE INDEX fitting_by_uid ON fitting (uid);

-- Which entries whoever recorded a fitting knew as the newest. Two entries that are nobody's parent
-- were recorded apart: they are shown, and the next entry names both.
CREATE TABLE fitting_parent (
    fitting_id INTEGER NOT NULL REFERENCES fitting (id),
    parent_id  INTEGER NOT NULL REFERENCES fitting (id),
    PRIMARY KEY (fitting_id, parent_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX fitting_parent_by_parent ON fitting_parent (parent_id);
INSERT INTO fitting_parent
    SELECT id, before FROM (SELECT id, lag(id) OVER (PARTITION BY bow_id ORDER BY id) AS before FROM fitting)
    WHERE before IS NOT NULL;

ALTER TABLE setup_check ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE setup_check ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
UPDATE setup_check SET uid = uid_of('setup_check', id, bow_id, at_ms, item, state),
    born = o.born FROM (SELECT id AS o_id, max(at_ms) OVER (ORDER BY id) + id AS born FROM setup_check) AS o
    WHERE o_id = id;
CREATE UNIQUE INDEX setup_check_by_uid ON setup_check (uid);

ALTER TABLE setup_change ADD COLUMN uid BLOB CHECK (length(uid) = 16);
ALTER TABLE setup_change ADD COLUMN born INTEGER NOT NULL DEFAULT 0;
UPDATE setup_change SET uid = uid_of('setup_change', id, bow_id, at_ms, kind, note),
    born = o.born FROM (SELECT id AS o_id, max(at_ms) OVER (ORDER BY id) + id AS born FROM setup_change) AS o
    WHERE o_id = id;
CREATE UNIQUE INDEX setup_change_by_uid ON setup_change (uid);

-- A swap that has ended stays as an empty row, so that its end is known to whoever merges.
CREATE TABLE swap_kept (
    bow_id     INTEGER PRIMARY KEY REFERENCES bow (id),
    swap       TEXT,                   -- JSON: the swap under way; NULL when it has ended
    reason     TEXT NOT NULL,
    verdict_id INTEGER REFERENCES verdict (id),
    started_ms INTEGER NOT NULL,
    touched_ms INTEGER NOT NULL,
    tick       INTEGER NOT NULL,
    mark       BLOB NOT NULL
) STRICT;
INSERT INTO swap_kept SELECT bow_id, swap, reason, verdict_id, started_ms, touched_ms, touched_ms,
    uid_of('swap', bow_id, swap, touched_ms) FROM swap;
DROP TABLE swap;
ALTER TABLE swap_kept RENAME TO swap;

ALTER TABLE camera ADD COLUMN tick INTEGER NOT NULL DEFAULT 0;
ALTER TABLE camera ADD COLUMN mark BLOB;
UPDATE camera SET tick = at_ms, mark = uid_of('camera', camera, k1, at_ms);

ALTER TABLE settings ADD COLUMN tick INTEGER NOT NULL DEFAULT 0;
ALTER TABLE settings ADD COLUMN mark BLOB;
UPDATE settings SET mark = uid_of('settings', settings);

INSERT INTO clock SELECT 1, max(born) FROM (
    SELECT 0 AS born UNION ALL SELECT max(born) FROM kit UNION ALL SELECT max(born) FROM bow
    UNION ALL SELECT max(born) FROM arrow_setup UNION ALL SELECT max(born) FROM trial
    UNION ALL SELECT max(born) FROM verdict UNION ALL SELECT max(born) FROM fitting
    UNION ALL SELECT max(born) FROM setup_check UNION ALL SELECT max(born) FROM setup_change
    UNION ALL SELECT max(touched_ms) FROM swap UNION ALL SELECT max(at_ms) FROM camera);
