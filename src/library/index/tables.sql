-- Everything here is read from the files and can be made anew from them.

CREATE TABLE clips (
    id INTEGER PRIMARY KEY,
    path TEXT NOT NULL UNIQUE,
    size INTEGER NOT NULL,            -- bytes
    modified INTEGER NOT NULL,        -- nanoseconds, as the system tells them
    quick_id TEXT NOT NULL,
    content_hash TEXT,                -- filled in later, because it reads the whole file
    noted INTEGER NOT NULL DEFAULT 0, -- when the sidecar was last changed; 0 when there is none,
                                      -- -1 when it is to be read again
    noted_of TEXT,                    -- quick id of the content that the sidecar is about
    altered INTEGER NOT NULL DEFAULT 0,
    disk INTEGER,                     -- on which it lay, as the system numbers it
    away INTEGER NOT NULL DEFAULT 0,  -- its folder or disk cannot be looked at now
    filmed TEXT,
    delete_by TEXT,
    taken_from TEXT,                  -- content hash of the clip that it was cut from
    text TEXT NOT NULL DEFAULT '',    -- source and notes, for the search by words
    problem TEXT
);
CREATE INDEX clips_by_quick_id ON clips(quick_id);
CREATE INDEX clips_by_content ON clips(content_hash);

-- Codes of those who are filmed, by the sidecar.
CREATE TABLE filmed (
    clip INTEGER NOT NULL REFERENCES clips ON DELETE CASCADE,
    athlete TEXT NOT NULL COLLATE NOCASE
);
CREATE INDEX filmed_by_clip ON filmed(clip);

-- What the gate allows, and until when: absent when not at all, NULL when without end.
CREATE TABLE allowed (
    clip INTEGER NOT NULL REFERENCES clips ON DELETE CASCADE,
    what TEXT NOT NULL,               -- pictures or sets
    purpose TEXT NOT NULL,
    until TEXT
);
CREATE INDEX allowed_by_clip ON allowed(clip);

-- One row a marks file, and one for each clip that has none.
CREATE TABLE routines (
    id INTEGER PRIMARY KEY,
    clip INTEGER REFERENCES clips ON DELETE SET NULL,
    marks TEXT UNIQUE,
    modified INTEGER NOT NULL DEFAULT 0,
    size INTEGER NOT NULL DEFAULT 0,
    quick_id TEXT,                    -- of the clip that the marks were made on
    routine TEXT NOT NULL DEFAULT '',
    event TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
    division TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
    athlete TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
    judge TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
    date TEXT NOT NULL DEFAULT '',
    book TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
    edition TEXT NOT NULL DEFAULT '' COLLATE NOCASE,
    score INTEGER,                    -- thousandths; NULL when void or not scored
    void INTEGER NOT NULL DEFAULT 0,
    close INTEGER NOT NULL DEFAULT 0, -- how many close calls
    seal TEXT NOT NULL DEFAULT '',    -- tells whether the marks are still those that were agreed on
    agreed INTEGER NOT NULL DEFAULT 0, -- 1: these marks stand in a reference of one judge alone;
                                      -- 2: of several who agreed
    watched INTEGER NOT NULL DEFAULT 0, -- somebody marked, read or called anything
    low INTEGER,                      -- lowest score that the close calls leave open; NULL as score
    high INTEGER,                     -- highest
    may_be_void INTEGER NOT NULL DEFAULT 0, -- or nothing
    problem TEXT
);
CREATE INDEX routines_by_clip ON routines(clip);
CREATE INDEX routines_by_date ON routines(date DESC, id);

CREATE TABLE elements (
    routine INTEGER NOT NULL REFERENCES routines ON DELETE CASCADE,
    element TEXT NOT NULL COLLATE NOCASE,
    label TEXT NOT NULL COLLATE NOCASE
);
CREATE INDEX elements_by_routine ON elements(routine);
CREATE INDEX elements_by_element ON elements(element, label, routine);

CREATE TABLE moments (
    routine INTEGER NOT NULL REFERENCES routines ON DELETE CASCADE,
    kind TEXT NOT NULL
);
CREATE INDEX moments_by_routine ON moments(routine);
CREATE INDEX moments_by_kind ON moments(kind, routine);

CREATE TABLE readings (
    routine INTEGER NOT NULL REFERENCES routines ON DELETE CASCADE,
    element TEXT NOT NULL COLLATE NOCASE,
    label TEXT NOT NULL COLLATE NOCASE,
    quantity TEXT NOT NULL,
    value REAL NOT NULL               -- degrees
);
CREATE INDEX readings_by_routine ON readings(routine);
CREATE INDEX readings_by_quantity ON readings(quantity, value, routine);

CREATE TABLE requirements (
    routine INTEGER NOT NULL REFERENCES routines ON DELETE CASCADE,
    requirement TEXT NOT NULL COLLATE NOCASE,
    label TEXT NOT NULL COLLATE NOCASE,
    status TEXT NOT NULL
);
CREATE INDEX requirements_by_routine ON requirements(routine);
CREATE INDEX requirements_by_status ON requirements(requirement, status, routine);

CREATE TABLE faults (
    routine INTEGER NOT NULL REFERENCES routines ON DELETE CASCADE,
    rule TEXT NOT NULL COLLATE NOCASE,
    label TEXT NOT NULL COLLATE NOCASE,
    amount INTEGER NOT NULL           -- thousandths
);
CREATE INDEX faults_by_routine ON faults(routine);
CREATE INDEX faults_by_amount ON faults(amount, routine);

-- Words by routine; only the index of words is kept, not the text.
CREATE VIRTUAL TABLE words USING fts5(
    text, content = '', contentless_delete = 1, tokenize = 'unicode61 remove_diacritics 2'
);
