-- From tables 3 to 4. Marks files and records are read again by the next scan.
ALTER TABLE routines ADD COLUMN seal TEXT NOT NULL DEFAULT '';
UPDATE routines SET modified = 0;
UPDATE clips SET noted = -1 WHERE noted <> 0;
PRAGMA user_version = 4;
