-- The columns are those of PostgreSQL; see there. mark counts the writes of the whole file, which has one writer at a time.
CREATE TABLE books (
    book     BLOB    NOT NULL PRIMARY KEY,
    pos      INTEGER NOT NULL,
    chain    BLOB    NOT NULL,
    at       INTEGER NOT NULL,
    restored BOOLEAN NOT NULL DEFAULT FALSE,
    mark     INTEGER NOT NULL
) WITHOUT ROWID;
CREATE INDEX books_mark ON books (mark);

CREATE TABLE entries (
    book   BLOB    NOT NULL,
    pos    INTEGER NOT NULL,
    chain  BLOB    NOT NULL,
    at     INTEGER NOT NULL,
    device BLOB    NOT NULL,
    seq    INTEGER NOT NULL,
    kind   INTEGER NOT NULL,
    header BLOB    NOT NULL,
    body   BLOB,
    sig    BLOB,
    PRIMARY KEY (book, pos),
    UNIQUE (book, device, seq)
);

CREATE TABLE devices (
    book   BLOB NOT NULL,
    device BLOB NOT NULL,
    PRIMARY KEY (book, device)
) WITHOUT ROWID;
CREATE INDEX devices_device ON devices (device);
