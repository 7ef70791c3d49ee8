-- What a person knows of a bow beyond its measures: which bows it is one of, how far its rest may go from
-- where it stood, and swaps from before the record (JSON).
ALTER TABLE bow ADD COLUMN family TEXT NOT NULL DEFAULT '';
ALTER TABLE bow ADD COLUMN rest_left_mm REAL;
ALTER TABLE bow ADD COLUMN rest_right_mm REAL;
ALTER TABLE bow ADD COLUMN remembered TEXT NOT NULL DEFAULT '[]';

CREATE TRIGGER known_bow_counts AFTER UPDATE ON bow
WHEN (OLD.family, OLD.rest_left_mm, OLD.rest_right_mm, OLD.remembered)
    IS NOT (NEW.family, NEW.rest_left_mm, NEW.rest_right_mm, NEW.remembered)
BEGIN UPDATE bow SET revision = revision + 1 WHERE id = NEW.id; END;

-- "Keep" was one word for a settled bow and for one that spacers cannot cure.
UPDATE verdict SET outcome = CASE
    WHEN json_valid(given) AND json_extract(given, '$.verdict.predicted.within_tolerance') >= 0.8 THEN 'stop'
    ELSE 'spacers_cannot' END
    WHERE outcome = 'keep';
