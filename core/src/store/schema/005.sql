-- A trial struck from the record counts for nothing; a kit put away is offered no more. Both are kept.
ALTER TABLE trial ADD COLUMN struck_ms INTEGER;
ALTER TABLE kit ADD COLUMN archived_ms INTEGER;

-- Counts up with whatever a verdict is computed from. A verdict carries the count it was given at,
-- and is stale once the bow's has moved on. The workshop's own wishes are counted where they are saved.
ALTER TABLE bow ADD COLUMN revision INTEGER NOT NULL DEFAULT 0;
ALTER TABLE verdict ADD COLUMN revision INTEGER NOT NULL DEFAULT -1;
UPDATE verdict SET revision = 0 WHERE
    id = (SELECT max(id) FROM verdict AS later WHERE later.bow_id = verdict.bow_id)
    AND last_trial_id IS (SELECT max(id) FROM trial WHERE trial.bow_id = verdict.bow_id)
    AND fitting_id IS (SELECT max(id) FROM fitting WHERE fitting.bow_id = verdict.bow_id)
    AND NOT EXISTS (SELECT 1 FROM setup_check AS c WHERE c.bow_id = verdict.bow_id AND c.at_ms > verdict.at_ms)
    AND NOT EXISTS (SELECT 1 FROM setup_change AS c WHERE c.bow_id = verdict.bow_id AND c.at_ms > verdict.at_ms);

CREATE TRIGGER check_counts AFTER INSERT ON setup_check
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER change_counts AFTER INSERT ON setup_change
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER fitting_counts AFTER INSERT ON fitting
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER trial_counts AFTER INSERT ON trial
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER corrected_trial_counts AFTER UPDATE ON trial
WHEN (OLD.bow_id, OLD.fitting_id, OLD.arrow_setup_id, OLD.surface, OLD.distance_m, OLD.rest_mm, OLD.nock_mm,
      OLD.epoch, OLD.struck_ms)
    IS NOT (NEW.bow_id, NEW.fitting_id, NEW.arrow_setup_id, NEW.surface, NEW.distance_m, NEW.rest_mm, NEW.nock_mm,
      NEW.epoch, NEW.struck_ms)
    -- The name of the photograph proves nothing.
    OR CASE WHEN json_valid(OLD.marks) AND json_valid(NEW.marks)
        THEN json_remove(OLD.marks, '$.photo') IS NOT json_remove(NEW.marks, '$.photo')
        ELSE OLD.marks <> NEW.marks END
BEGIN UPDATE bow SET revision = revision + 1 WHERE id IN (OLD.bow_id, NEW.bow_id); END;
CREATE TRIGGER arrows_count AFTER UPDATE OF setup ON arrow_setup WHEN OLD.setup <> NEW.setup
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.bow_id; END;
CREATE TRIGGER kit_counts AFTER UPDATE OF kit, owned ON kit WHEN OLD.kit <> NEW.kit OR OLD.owned <> NEW.owned
BEGIN UPDATE bow SET revision = revision + 1 WHERE kit_id = NEW.id; END;
CREATE TRIGGER bow_counts AFTER UPDATE ON bow
WHEN (OLD.kit_id, OLD.hand, OLD.axle_to_axle_mm, OLD.brace_height_mm, OLD.draw_weight_n, OLD.draw_length_mm,
      OLD.top_weight, OLD.priority, OLD.tolerance_mm, OLD.tolerance_distance_m, OLD.maker)
    IS NOT (NEW.kit_id, NEW.hand, NEW.axle_to_axle_mm, NEW.brace_height_mm, NEW.draw_weight_n, NEW.draw_length_mm,
      NEW.top_weight, NEW.priority, NEW.tolerance_mm, NEW.tolerance_distance_m, NEW.maker)
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.id; END;
