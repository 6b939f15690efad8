-- Set on every connection; none of it is kept in the file.
PRAGMA foreign_keys = ON;
-- A commit returns when the write-ahead log is on disk, not before.
PRAGMA synchronous = FULL;
-- On Apple systems a plain fsync stops at the drive's cache. No effect elsewhere.
PRAGMA fullfsync = ON;
PRAGMA checkpoint_fullfsync = ON;
-- Lets REPLACE run into the delete triggers.
PRAGMA recursive_triggers = ON;
-- A phone has no folder for temporary files that SQLite would find.
PRAGMA temp_store = MEMORY;
-- Looks at every page for damage when it is read.
PRAGMA cell_size_check = ON;
-- A write-ahead log swollen by a large picture is cut back to 4 MiB once it is in the file.
PRAGMA journal_size_limit = 4194304;
