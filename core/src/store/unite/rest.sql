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

-- A verdict is fresh in the union where it is in one of the files and the union holds nothing of its
-- bow that this file lacks, nor a later change. `revision` means something beside its bow's only.
CREATE TEMP TABLE known AS
SELECT side, bow_id, count(*) AS facts, sum(tick) AS ticks FROM (
    SELECT 'a' AS side, bow_id, tick FROM a.trial UNION ALL
    SELECT 'a', bow_id, born FROM a.fitting UNION ALL
    SELECT 'a', bow_id, born FROM a.setup_check UNION ALL
    SELECT 'a', bow_id, born FROM a.setup_change UNION ALL
    SELECT 'a', bow_id, tick FROM a.arrow_setup UNION ALL
    SELECT 'a', id, tick FROM a.bow UNION ALL
    SELECT 'a', bow.id, kit.tick FROM a.bow AS bow JOIN a.kit AS kit ON kit.id = bow.kit_id UNION ALL
    SELECT 'a', bow.id, settings.tick FROM a.bow AS bow, a.settings AS settings UNION ALL
    SELECT 'b' AS side, bow_id, tick FROM b.trial UNION ALL
    SELECT 'b', bow_id, born FROM b.fitting UNION ALL
    SELECT 'b', bow_id, born FROM b.setup_check UNION ALL
    SELECT 'b', bow_id, born FROM b.setup_change UNION ALL
    SELECT 'b', bow_id, tick FROM b.arrow_setup UNION ALL
    SELECT 'b', id, tick FROM b.bow UNION ALL
    SELECT 'b', bow.id, kit.tick FROM b.bow AS bow JOIN b.kit AS kit ON kit.id = bow.kit_id UNION ALL
    SELECT 'b', bow.id, settings.tick FROM b.bow AS bow, b.settings AS settings UNION ALL
    SELECT 'main' AS side, bow_id, tick FROM main.trial UNION ALL
    SELECT 'main', bow_id, born FROM main.fitting UNION ALL
    SELECT 'main', bow_id, born FROM main.setup_check UNION ALL
    SELECT 'main', bow_id, born FROM main.setup_change UNION ALL
    SELECT 'main', bow_id, tick FROM main.arrow_setup UNION ALL
    SELECT 'main', id, tick FROM main.bow UNION ALL
    SELECT 'main', bow.id, kit.tick FROM main.bow AS bow JOIN main.kit AS kit ON kit.id = bow.kit_id UNION ALL
    SELECT 'main', bow.id, settings.tick FROM main.bow AS bow, main.settings AS settings)
GROUP BY side, bow_id;
UPDATE main.bow SET revision = 0;
UPDATE main.verdict SET revision = -1;
UPDATE main.verdict SET revision = 0 WHERE id IN (
    SELECT m.new FROM
        (SELECT 'a' AS side, v.id, v.bow_id FROM a.verdict AS v JOIN a.bow AS o ON o.id = v.bow_id
         WHERE o.revision = v.revision UNION ALL
         SELECT 'b', v.id, v.bow_id FROM b.verdict AS v JOIN b.bow AS o ON o.id = v.bow_id
         WHERE o.revision = v.revision) AS fresh
    JOIN verdict_map AS m ON m.side = fresh.side AND m.old = fresh.id
    JOIN bow_map AS o ON o.side = fresh.side AND o.old = fresh.bow_id
    JOIN known AS here ON here.side = fresh.side AND here.bow_id = fresh.bow_id
    JOIN known AS there ON there.side = 'main' AND there.bow_id = o.new
        AND there.facts = here.facts AND there.ticks = here.ticks);
