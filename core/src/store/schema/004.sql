-- JSON: what the bow's maker states for the measured checks, one range per check.
ALTER TABLE bow ADD COLUMN maker TEXT NOT NULL DEFAULT '[]';
-- JSON: what opened a check again; absent where a person answered it.
ALTER TABLE setup_check ADD COLUMN reopened TEXT;
