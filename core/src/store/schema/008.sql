-- A change that was entered wrongly is put right by a later row, as fittings are: the first one stays. `struck`
-- says that nothing was changed at all. Both count from the change they correct on, not from when they were written.
ALTER TABLE setup_change ADD COLUMN corrects_id INTEGER REFERENCES setup_change (id);
ALTER TABLE setup_change ADD COLUMN struck INTEGER NOT NULL DEFAULT 0;
CREATE INDEX setup_change_by_correction ON setup_change (corrects_id, id, struck) WHERE corrects_id IS NOT NULL;
DROP INDEX setup_change_by_birth;
CREATE INDEX setup_change_by_birth ON setup_change (bow_id, born, id) WHERE kind <> 'side_confirmed' AND corrects_id IS NULL;
