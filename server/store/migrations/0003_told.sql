-- +goose Up
-- What the keeper of a saved transfer was told last, so that no later program
-- computes it anew. NULL is a row of release 0.2.0, which kept only what it was
-- computed from; only the program of the tag bridge-0.2 can tell it.
ALTER TABLE transfers ADD COLUMN told TEXT;
