-- One row a book: where its order stands. The row is the book's lock.
-- mark is the transaction that wrote last; the slow poll finds by it what other servers wrote.
CREATE TABLE books (
    book     bytea    PRIMARY KEY,
    pos      bigint   NOT NULL,
    chain    bytea    NOT NULL,
    at       bigint   NOT NULL,
    restored boolean  NOT NULL DEFAULT false,
    mark     bigint   NOT NULL
);
CREATE INDEX books_mark ON books (mark);

-- One row an op, as it came: header and body are never re-encoded. body is null once dropped; sig stands with the last op of
-- a run, and so marks where runs end.
CREATE TABLE entries (
    book   bytea    NOT NULL,
    pos    bigint   NOT NULL,
    chain  bytea    NOT NULL,
    at     bigint   NOT NULL,
    device bytea    NOT NULL,
    seq    bigint   NOT NULL,
    kind   smallint NOT NULL,
    header bytea    NOT NULL,
    body   bytea,
    sig    bytea,
    PRIMARY KEY (book, pos),
    UNIQUE (book, device, seq)
);
-- Bodies are ciphertext: trying to compress them is wasted work.
ALTER TABLE entries ALTER COLUMN body SET STORAGE EXTERNAL;

-- The devices that are in a book now.
CREATE TABLE devices (
    book   bytea NOT NULL,
    device bytea NOT NULL,
    PRIMARY KEY (book, device)
);
CREATE INDEX devices_device ON devices (device);
