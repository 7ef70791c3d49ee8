-- Set while an arrow set-up is put away: kept for what was shot with it, offered no more.
ALTER TABLE arrow_setup ADD COLUMN archived_ms INTEGER;
