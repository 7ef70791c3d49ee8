-- Which row of which file becomes which row of the union. `a` and `b` are the files, `main` the union.
-- The same row has the same uid in both; `new` is its number in the union, and the copy with place 1
-- stands: of two writes the later, of two at the same moment the one with the larger mark.

CREATE TEMP TABLE kit_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, tick, mark FROM a.kit UNION ALL
    SELECT 'b', id, uid, born, tick, mark FROM b.kit));
CREATE INDEX temp.kit_map_by_old ON kit_map (side, old);

CREATE TEMP TABLE bow_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, tick, mark FROM a.bow UNION ALL
    SELECT 'b', id, uid, born, tick, mark FROM b.bow));
CREATE INDEX temp.bow_map_by_old ON bow_map (side, old);

CREATE TEMP TABLE arrow_setup_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, tick, mark FROM a.arrow_setup UNION ALL
    SELECT 'b', id, uid, born, tick, mark FROM b.arrow_setup));
CREATE INDEX temp.arrow_setup_map_by_old ON arrow_setup_map (side, old);

CREATE TEMP TABLE trial_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, tick, mark FROM a.trial UNION ALL
    SELECT 'b', id, uid, born, tick, mark FROM b.trial));
CREATE INDEX temp.trial_map_by_old ON trial_map (side, old);

CREATE TEMP TABLE fitting_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, 0 AS tick, uid AS mark FROM a.fitting UNION ALL
    SELECT 'b', id, uid, born, 0, uid FROM b.fitting));
CREATE INDEX temp.fitting_map_by_old ON fitting_map (side, old);

CREATE TEMP TABLE verdict_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, 0 AS tick, uid AS mark FROM a.verdict UNION ALL
    SELECT 'b', id, uid, born, 0, uid FROM b.verdict));
CREATE INDEX temp.verdict_map_by_old ON verdict_map (side, old);

CREATE TEMP TABLE setup_check_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, 0 AS tick, uid AS mark FROM a.setup_check UNION ALL
    SELECT 'b', id, uid, born, 0, uid FROM b.setup_check));
CREATE INDEX temp.setup_check_map_by_old ON setup_check_map (side, old);

CREATE TEMP TABLE setup_change_map AS
SELECT side, id AS old, dense_rank() OVER (ORDER BY first, uid) AS new,
       row_number() OVER (PARTITION BY uid ORDER BY tick DESC, mark DESC, side) AS place
FROM (SELECT *, min(born) OVER (PARTITION BY uid) AS first FROM (
    SELECT 'a' AS side, id, uid, born, 0 AS tick, uid AS mark FROM a.setup_change UNION ALL
    SELECT 'b', id, uid, born, 0, uid FROM b.setup_change));
CREATE INDEX temp.setup_change_map_by_old ON setup_change_map (side, old);

-- Epochs of each file and of the union, by the change each began with.
CREATE TEMP TABLE epoch_map AS
SELECT side, bow_id, old, dense_rank() OVER (PARTITION BY bow_new ORDER BY change_new) AS new
FROM (SELECT c.side, c.bow_id, b.new AS bow_new, m.new AS change_new,
             row_number() OVER (PARTITION BY c.side, c.bow_id ORDER BY c.id) AS old
      FROM (SELECT 'a' AS side, id, bow_id, kind FROM a.setup_change UNION ALL
            SELECT 'b', id, bow_id, kind FROM b.setup_change) AS c
      JOIN bow_map AS b ON b.side = c.side AND b.old = c.bow_id
      JOIN setup_change_map AS m ON m.side = c.side AND m.old = c.id
      WHERE c.kind NOT IN ('rest_moved', 'nock_moved', 'side_confirmed'));
CREATE INDEX temp.epoch_map_by_old ON epoch_map (side, bow_id, old);
