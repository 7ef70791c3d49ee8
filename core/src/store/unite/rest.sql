-- What is not copied row by row, after the rows are there. Joined in the order that is written (CROSS): the
-- maps are looked up, never gone through.

INSERT OR IGNORE INTO main.fitting_parent
SELECT f.new, p.new FROM
    (SELECT 'a' AS side, fitting_id, parent_id FROM a.fitting_parent UNION ALL
     SELECT 'b', fitting_id, parent_id FROM b.fitting_parent) AS r
    CROSS JOIN fitting_map AS f ON f.side = r.side AND f.old = r.fitting_id
    CROSS JOIN fitting_map AS p ON p.side = r.side AND p.old = r.parent_id
ORDER BY f.new, p.new;

-- Working on a bow is no change of its details.
UPDATE main.bow SET used_ms = o.used FROM (
    SELECT m.new, max(r.used_ms) AS used FROM
        (SELECT 'a' AS side, id, used_ms FROM a.bow UNION ALL SELECT 'b', id, used_ms FROM b.bow) AS r
        CROSS JOIN bow_map AS m ON m.side = r.side AND m.old = r.id GROUP BY m.new) AS o
    WHERE id = o.new;

INSERT INTO main.swap
SELECT bow_id, swap, reason, verdict_id, started_ms, touched_ms, tick, mark FROM (
    SELECT m.new AS bow_id, r.swap, r.reason, v.new AS verdict_id, r.started_ms, r.touched_ms, r.tick, r.mark,
           row_number() OVER (PARTITION BY m.new ORDER BY r.tick DESC, r.mark DESC, r.side) AS place
    FROM (SELECT 'a' AS side, * FROM a.swap UNION ALL SELECT 'b', * FROM b.swap) AS r
    CROSS JOIN bow_map AS m ON m.side = r.side AND m.old = r.bow_id
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
-- bow that this file lacks, nor a later change. `revision` means something beside its bow's only; in the
-- union it is 0 for bows and -1 for verdicts so far.
CREATE TEMP TABLE fact AS
SELECT side, old, new, place, tick, bow FROM trial_map UNION ALL
SELECT side, old, new, place, tick, bow FROM fitting_map UNION ALL
SELECT side, old, new, place, tick, bow FROM setup_check_map UNION ALL
SELECT side, old, new, place, tick, bow FROM setup_change_map UNION ALL
SELECT side, old, new, place, tick, bow FROM arrow_setup_map UNION ALL
SELECT side, old, new, place, tick, old FROM bow_map;
CREATE TEMP TABLE known (side TEXT, bow_id INTEGER, facts INTEGER, ticks INTEGER, PRIMARY KEY (side, bow_id)) WITHOUT ROWID;
INSERT INTO known SELECT side, bow_id, count(*), sum(tick) FROM (
    SELECT side, bow AS bow_id, tick FROM fact WHERE bow IS NOT NULL UNION ALL
    SELECT 'main', o.new, f.tick FROM fact AS f CROSS JOIN bow_map AS o ON o.side = f.side AND o.old = f.bow
        WHERE f.place = 1 UNION ALL
    SELECT 'a', bow.id, kit.tick FROM a.bow AS bow JOIN a.kit AS kit ON kit.id = bow.kit_id UNION ALL
    SELECT 'b', bow.id, kit.tick FROM b.bow AS bow JOIN b.kit AS kit ON kit.id = bow.kit_id UNION ALL
    SELECT 'main', bow.id, kit.tick FROM main.bow AS bow JOIN main.kit AS kit ON kit.id = bow.kit_id UNION ALL
    SELECT 'a', bow.id, settings.tick FROM a.bow AS bow, a.settings AS settings UNION ALL
    SELECT 'b', bow.id, settings.tick FROM b.bow AS bow, b.settings AS settings UNION ALL
    SELECT 'main', bow.id, settings.tick FROM main.bow AS bow, main.settings AS settings)
GROUP BY side, bow_id;
UPDATE main.verdict SET revision = 0 WHERE id IN (
    SELECT m.new FROM
        (SELECT 'a' AS side, v.id, v.bow_id FROM a.verdict AS v JOIN a.bow AS o ON o.id = v.bow_id
         WHERE o.revision = v.revision UNION ALL
         SELECT 'b', v.id, v.bow_id FROM b.verdict AS v JOIN b.bow AS o ON o.id = v.bow_id
         WHERE o.revision = v.revision) AS fresh
    CROSS JOIN verdict_map AS m ON m.side = fresh.side AND m.old = fresh.id
    CROSS JOIN bow_map AS o ON o.side = fresh.side AND o.old = fresh.bow_id
    CROSS JOIN known AS here ON here.side = fresh.side AND here.bow_id = fresh.bow_id
    CROSS JOIN known AS there ON there.side = 'main' AND there.bow_id = o.new
        AND there.facts = here.facts AND there.ticks = here.ticks);
