-- What is not copied row by row, after the rows are there.

INSERT OR IGNORE INTO main.fitting_parent
SELECT f.new, p.new FROM
    (SELECT 'a' AS side, fitting_id, parent_id FROM a.fitting_parent UNION ALL
     SELECT 'b', fitting_id, parent_id FROM b.fitting_parent) AS r
    JOIN fitting_map AS f ON f.side = r.side AND f.old = r.fitting_id
    JOIN fitting_map AS p ON p.side = r.side AND p.old = r.parent_id
ORDER BY f.new, p.new;

-- Working on a bow is no change of its details.
UPDATE main.bow SET used_ms = o.used FROM (
    SELECT uid AS o_uid, max(used_ms) AS used FROM
        (SELECT uid, used_ms FROM a.bow UNION ALL SELECT uid, used_ms FROM b.bow) GROUP BY uid) AS o
    WHERE uid = o_uid;

-- A verdict knows what its own half had on record. Of a bow on which the halves differ none stands any
-- more: the count then says only that, and is the same whichever file is merged into which.
CREATE TEMP TABLE fact AS
SELECT side, bow_id, count(*) AS facts FROM (
    SELECT 'a' AS side, bow_id FROM a.trial UNION ALL SELECT 'a', bow_id FROM a.fitting
    UNION ALL SELECT 'a', bow_id FROM a.setup_check UNION ALL SELECT 'a', bow_id FROM a.setup_change
    UNION ALL SELECT 'b', bow_id FROM b.trial UNION ALL SELECT 'b', bow_id FROM b.fitting
    UNION ALL SELECT 'b', bow_id FROM b.setup_check UNION ALL SELECT 'b', bow_id FROM b.setup_change
    UNION ALL SELECT 'union', bow_id FROM main.trial UNION ALL SELECT 'union', bow_id FROM main.fitting
    UNION ALL SELECT 'union', bow_id FROM main.setup_check UNION ALL SELECT 'union', bow_id FROM main.setup_change)
GROUP BY side, bow_id;
UPDATE main.bow SET revision = -1099511627776 - ifnull((SELECT facts FROM fact WHERE side = 'union' AND bow_id = bow.id), 0)
WHERE id IN (
    SELECT m.new FROM (SELECT 'a' AS side, id, revision FROM a.bow UNION ALL SELECT 'b', id, revision FROM b.bow) AS r
    JOIN bow_map AS m ON m.side = r.side AND m.old = r.id
    LEFT JOIN fact AS f ON f.side = r.side AND f.bow_id = r.id
    LEFT JOIN fact AS u ON u.side = 'union' AND u.bow_id = m.new
    GROUP BY m.new HAVING count(*) = 2
        AND (min(r.revision) <> max(r.revision) OR min(ifnull(f.facts, 0)) <> max(ifnull(u.facts, 0))));

INSERT INTO main.swap
SELECT bow_id, swap, reason, verdict_id, started_ms, touched_ms, tick, mark FROM (
    SELECT m.new AS bow_id, r.swap, r.reason, v.new AS verdict_id, r.started_ms, r.touched_ms, r.tick, r.mark,
           row_number() OVER (PARTITION BY m.new ORDER BY r.tick DESC, r.mark DESC, r.side) AS place
    FROM (SELECT 'a' AS side, * FROM a.swap UNION ALL SELECT 'b', * FROM b.swap) AS r
    JOIN bow_map AS m ON m.side = r.side AND m.old = r.bow_id
    LEFT JOIN verdict_map AS v ON v.side = r.side AND v.old = r.verdict_id)
WHERE place = 1 ORDER BY bow_id;

INSERT INTO main.camera
SELECT camera, k1, at_ms, tick, mark FROM (
    SELECT *, row_number() OVER (PARTITION BY camera ORDER BY tick DESC, mark DESC) AS place
    FROM (SELECT camera, k1, at_ms, tick, mark FROM a.camera UNION ALL
          SELECT camera, k1, at_ms, tick, mark FROM b.camera))
WHERE place = 1 ORDER BY camera;

INSERT INTO main.settings
SELECT id, settings, tick, mark FROM (
    SELECT id, settings, tick, mark FROM a.settings UNION ALL SELECT id, settings, tick, mark FROM b.settings)
ORDER BY tick DESC, mark DESC LIMIT 1;

UPDATE main.clock SET tick = max(tick, (SELECT tick FROM a.clock), (SELECT tick FROM b.clock));
