-- The rack asks of every bow for its newest trial, verdict, change and doubtful checks. These lists hold all
-- that it needs, so that no row of a trial or verdict, which may be long, is read for it.
DROP INDEX verdict_by_bow;
CREATE INDEX verdict_by_bow ON verdict (bow_id, id, revision, outcome, more);
CREATE INDEX trial_by_standing ON trial (bow_id, struck_ms, id, fitting_id, born);
CREATE INDEX setup_change_by_birth ON setup_change (bow_id, born, kind) WHERE kind <> 'side_confirmed';
CREATE INDEX setup_check_to_judge ON setup_check (bow_id, item, id, state, measured)
    WHERE state = 'failed' OR measured IS NOT NULL;
