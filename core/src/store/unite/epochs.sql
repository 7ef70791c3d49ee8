-- Epochs of each file and of the union, by the change each began with. `a` and `b` are the files; their rows
-- are numbered in `..._map`. A correction begins none, and what it corrects is counted as it was entered: what
-- counts of it is asked where trials are read.
CREATE TEMP TABLE epoch_map AS
SELECT side, bow_id, old, dense_rank() OVER (PARTITION BY bow_new ORDER BY change_new) AS new
FROM (SELECT c.side, c.bow_id, b.new AS bow_new, m.new AS change_new,
             row_number() OVER (PARTITION BY c.side, c.bow_id ORDER BY c.id) AS old
      FROM (SELECT 'a' AS side, id, bow_id, kind, corrects_id FROM a.setup_change UNION ALL
            SELECT 'b', id, bow_id, kind, corrects_id FROM b.setup_change) AS c
      JOIN bow_map AS b ON b.side = c.side AND b.old = c.bow_id
      JOIN setup_change_map AS m ON m.side = c.side AND m.old = c.id
      WHERE c.corrects_id IS NULL AND c.kind NOT IN ('rest_moved', 'nock_moved', 'side_confirmed'));
CREATE INDEX temp.epoch_map_by_old ON epoch_map (side, bow_id, old);
