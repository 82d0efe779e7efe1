DROP TABLE devices;
DROP TABLE entries;
DROP TABLE books;
