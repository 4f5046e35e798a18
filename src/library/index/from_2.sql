-- From tables 2 to 3. Marks files are read again by the next scan.
ALTER TABLE routines ADD COLUMN low INTEGER;
ALTER TABLE routines ADD COLUMN high INTEGER;
ALTER TABLE routines ADD COLUMN may_be_void INTEGER NOT NULL DEFAULT 0;
UPDATE routines SET modified = 0, low = score, high = score;
PRAGMA user_version = 3;
