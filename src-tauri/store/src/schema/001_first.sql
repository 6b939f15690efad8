-- Version 1. Never edited once released: a change is a new file.
--
-- Everything is append-only. What an entry or a job revision says is its `body`, the JSON of
-- borespoke-core, kept byte for byte, with its SHA-256 as `digest`; the other columns of those two
-- tables are there to be searched and, where they are generated, cannot disagree with the body.
-- Times are microseconds since 1970-01-01 UTC. `key`s are local to this file and never leave it.

-- "BORE" in ASCII.
PRAGMA application_id = 1112494661;

CREATE TABLE job (
    key INTEGER PRIMARY KEY,
    -- UUID version 7.
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16)
) STRICT;

-- The newest revision is the job as it stands.
CREATE TABLE job_revision (
    key INTEGER PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job (key),
    revision INTEGER NOT NULL CHECK (revision >= 1),
    made_at INTEGER NOT NULL,
    begun INTEGER NOT NULL,
    body TEXT NOT NULL CHECK (json_valid(body)),
    digest BLOB NOT NULL CHECK (length(digest) = 32),
    customer TEXT NOT NULL GENERATED ALWAYS AS (body ->> '$.customer') STORED,
    vehicle TEXT NOT NULL GENERATED ALWAYS AS (body ->> '$.vehicle') STORED,
    invented INTEGER NOT NULL GENERATED ALWAYS AS (body ->> '$.invented') STORED,
    UNIQUE (job, revision)
) STRICT;

-- The list of jobs is in this order.
CREATE INDEX job_revision_by_begun ON job_revision (begun, job, revision);

CREATE TABLE entry (
    key INTEGER PRIMARY KEY,
    -- UUID version 7.
    id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    job INTEGER NOT NULL REFERENCES job (key),
    -- Place in the job's log, from 0 without a gap.
    place INTEGER NOT NULL CHECK (place >= 0),
    at INTEGER NOT NULL,
    body TEXT NOT NULL CHECK (json_valid(body)),
    digest BLOB NOT NULL CHECK (length(digest) = 32),
    act TEXT NOT NULL GENERATED ALWAYS AS (body ->> '$.act') VIRTUAL,
    kind TEXT GENERATED ALWAYS AS (body ->> '$.observation.kind') VIRTUAL,
    cylinder INTEGER GENERATED ALWAYS AS (body ->> '$.observation.cylinder') VIRTUAL,
    UNIQUE (job, place)
) STRICT;

-- A voice clip or a picture, known by the SHA-256 of its content.
CREATE TABLE attachment (
    key INTEGER PRIMARY KEY,
    digest BLOB NOT NULL UNIQUE CHECK (length(digest) = 32),
    media_type TEXT NOT NULL,
    length INTEGER NOT NULL CHECK (length >= 0)
) STRICT;

-- Content in pieces, so that neither writing nor reading holds a whole picture in memory. Deferred:
-- the length is known, and the attachment written, only after the last piece.
CREATE TABLE attachment_piece (
    key INTEGER PRIMARY KEY,
    attachment INTEGER NOT NULL REFERENCES attachment (key) DEFERRABLE INITIALLY DEFERRED,
    place INTEGER NOT NULL CHECK (place >= 0),
    content BLOB NOT NULL,
    UNIQUE (attachment, place)
) STRICT;

CREATE TABLE entry_attachment (
    entry INTEGER NOT NULL REFERENCES entry (key),
    attachment INTEGER NOT NULL REFERENCES attachment (key),
    PRIMARY KEY (entry, attachment)
) STRICT, WITHOUT ROWID;

CREATE INDEX entry_attachment_by_attachment ON entry_attachment (attachment, entry);

-- Append-only. REPLACE deletes without asking the delete trigger unless the connection turned
-- recursive triggers on, so the insert triggers refuse what would replace.

CREATE TRIGGER job_is_not_changed BEFORE UPDATE ON job
BEGIN SELECT RAISE(ABORT, 'a job is never changed'); END;
CREATE TRIGGER job_is_not_removed BEFORE DELETE ON job
BEGIN SELECT RAISE(ABORT, 'a job is never removed'); END;
CREATE TRIGGER job_is_not_replaced BEFORE INSERT ON job
WHEN EXISTS (SELECT 1 FROM job WHERE id = NEW.id OR key = NEW.key)
BEGIN SELECT RAISE(ABORT, 'a job is never replaced'); END;

CREATE TRIGGER job_revision_is_not_changed BEFORE UPDATE ON job_revision
BEGIN SELECT RAISE(ABORT, 'a job revision is never changed'); END;
CREATE TRIGGER job_revision_is_not_removed BEFORE DELETE ON job_revision
BEGIN SELECT RAISE(ABORT, 'a job revision is never removed'); END;
CREATE TRIGGER job_revision_is_the_next BEFORE INSERT ON job_revision
WHEN NEW.revision
        <> (SELECT coalesce(max(revision), 0) + 1 FROM job_revision WHERE job = NEW.job)
    OR EXISTS (SELECT 1 FROM job_revision WHERE key = NEW.key)
BEGIN SELECT RAISE(ABORT, 'a job revision takes the next number'); END;

CREATE TRIGGER entry_is_not_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_is_not_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never removed'); END;
CREATE TRIGGER entry_is_the_next BEFORE INSERT ON entry
WHEN NEW.place <> (SELECT coalesce(max(place), -1) + 1 FROM entry WHERE job = NEW.job)
    OR EXISTS (SELECT 1 FROM entry WHERE id = NEW.id OR key = NEW.key)
BEGIN SELECT RAISE(ABORT, 'an entry is added at the end and never replaced'); END;

CREATE TRIGGER attachment_is_not_changed BEFORE UPDATE ON attachment
BEGIN SELECT RAISE(ABORT, 'an attachment is never changed'); END;
CREATE TRIGGER attachment_is_not_removed BEFORE DELETE ON attachment
BEGIN SELECT RAISE(ABORT, 'an attachment is never removed'); END;
CREATE TRIGGER attachment_is_not_replaced BEFORE INSERT ON attachment
WHEN EXISTS (SELECT 1 FROM attachment WHERE digest = NEW.digest OR key = NEW.key)
BEGIN SELECT RAISE(ABORT, 'an attachment is never replaced'); END;

CREATE TRIGGER attachment_piece_is_not_changed BEFORE UPDATE ON attachment_piece
BEGIN SELECT RAISE(ABORT, 'an attachment is never changed'); END;
CREATE TRIGGER attachment_piece_is_not_removed BEFORE DELETE ON attachment_piece
BEGIN SELECT RAISE(ABORT, 'an attachment is never removed'); END;
-- A piece is written before its attachment: once that is there, nothing can be added to it.
CREATE TRIGGER attachment_piece_comes_first BEFORE INSERT ON attachment_piece
WHEN EXISTS (SELECT 1 FROM attachment WHERE key = NEW.attachment)
    OR NEW.place
        <> (SELECT coalesce(max(place), -1) + 1
            FROM attachment_piece
            WHERE attachment = NEW.attachment)
    OR EXISTS (SELECT 1 FROM attachment_piece WHERE key = NEW.key)
BEGIN SELECT RAISE(ABORT, 'an attachment is never added to'); END;

CREATE TRIGGER entry_attachment_is_not_changed BEFORE UPDATE ON entry_attachment
BEGIN SELECT RAISE(ABORT, 'an entry keeps its attachments'); END;
CREATE TRIGGER entry_attachment_is_not_removed BEFORE DELETE ON entry_attachment
BEGIN SELECT RAISE(ABORT, 'an entry keeps its attachments'); END;
