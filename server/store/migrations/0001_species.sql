-- +goose Up
-- The species table as the domain keeps it: one JSON value a taxon, found by its id.
CREATE TABLE taxa (
	id    TEXT NOT NULL PRIMARY KEY,
	value TEXT NOT NULL
);

-- Which edition of embedded data was loaded, one row a kind of data.
CREATE TABLE seeds (
	kind    TEXT NOT NULL PRIMARY KEY,
	version TEXT NOT NULL,
	digest  TEXT NOT NULL
);
