-- +goose Up
-- The plans of a transfer's legs, one JSON value a line in the order of the legs, an empty
-- line for one without. An entry in the log hardly ever changes them, and they are nine
-- tenths of all that is kept. Rows written before have them in the legs of their value.
ALTER TABLE transfers ADD COLUMN plans TEXT NOT NULL DEFAULT '';
